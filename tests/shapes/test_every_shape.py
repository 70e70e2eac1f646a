"""Every shape of score: placed, proved from outside, stripped to the same bytes."""

import pytest

from corpus.corpus_scores import (
    asked_of_music21,
    assert_record_is_read_back,
    assert_rest_is_untouched,
    assert_voices_end_alike,
)
from reedchord.musicxml.container import open_score
from reedchord.musicxml.document import read_score
from reedchord.musicxml.packing import repack
from reedchord.placement.place import place
from reedchord.placement.plan import Placement
from reedchord.placement.strip import strip
from samples import COLLECTION
from shapes.odd_documents import DOCUMENTS, LINE_ENDS, TAGS, VERSIONS
from shapes.odd_music import MUSIC
from shapes.odd_packages import PACKAGES
from truth.musicxml_schema import new_schema_errors

SHAPES = (*DOCUMENTS, *MUSIC, *PACKAGES)
every_shape = pytest.mark.parametrize("odd", SHAPES, ids=lambda odd: odd.name)


def placed(odd):
    """Place a sonority where the shape says."""
    wish = Placement(
        sonority="heron",
        part="P1",
        bar=odd.bar,
        beat=odd.beat,
        voice=odd.more.get("voice"),
        staff=odd.more.get("staff"),
        carry="carry" in odd.more,
    )
    return place(open_score(odd.data).data, [wish], COLLECTION)


@every_shape
def test_a_sonority_is_placed_and_nothing_else_moves(odd):
    file = open_score(odd.data)
    done = placed(odd)
    assert len(done.placed) == 1
    assert new_schema_errors(file.data, done.data) == []
    assert_rest_is_untouched(file.data, done)
    assert_voices_end_alike(read_score(file.data), read_score(done.data))
    assert_record_is_read_back(done)
    assert strip(done.data).data == file.data


@every_shape
def test_the_file_goes_back_into_its_package(odd):
    file, done = open_score(odd.data), placed(odd)
    packed = open_score(repack(file, done.data))
    assert packed.data == done.data
    assert (packed.package is None) == (file.package is None)
    if file.package is not None:
        assert sorted(packed.package.names) == sorted(file.package.names)


@pytest.mark.parametrize("odd", [*MUSIC, *LINE_ENDS, *TAGS, *VERSIONS], ids=lambda odd: odd.name)
def test_music21_hears_the_chord(odd):
    assert asked_of_music21(odd.data, placed(odd)) == ("read the result", 1)


@pytest.mark.parametrize("odd", VERSIONS, ids=lambda odd: odd.name)
def test_ids_are_written_from_version_3_1_on(odd):
    has_ids = b'<note id="rc-' in placed(odd).data
    assert has_ids == (odd.name in {"version 3.1", "version 4.0"})


def test_no_line_end_is_written_that_the_score_has_not():
    by_name = {odd.name: placed(odd).data for odd in LINE_ENDS}
    assert b"\n" not in by_name["CR"]
    assert b"\n" not in by_name["CRLF"].replace(b"\r\n", b"")

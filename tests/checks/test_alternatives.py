"""Other sonorities for a place: they were tried there before they are offered."""

from __future__ import annotations

import pytest

from reedchord.checks.checking import check
from reedchord.checks.example import Example
from reedchord.checks.reading import checked_score
from reedchord.collection import Collection
from reedchord.musicxml.document import read_score
from reedchord.placement.swap import swap
from tiny_scores import BAND, BELL, GONG, KNELL, LAMP, tiny_score


def offered(music, collection=BAND, **more):
    """What could be swapped in at the first finding that a swap may mend."""
    report = check(tiny_score(Example(music, "", **more)), collection)
    for finding in report.findings:
        swaps = [remedy.swap_to for remedy in finding.remedies if remedy.swap_to]
        if swaps:
            return swaps
    return []


def test_a_faster_one_with_the_same_tones_is_offered():
    assert offered("mf bell/8 bell/8 bell/8 bell/8", tempo=160) == ["knell"]


def test_without_a_collection_nothing_is_offered():
    assert offered("mf bell/8 bell/8 bell/8 bell/8", None, tempo=160) == []


def test_one_that_is_too_slow_itself_is_not_offered():
    band = Collection({one.id: one for one in (BELL, GONG)}, {}, "two")
    assert offered("f bell/16:slap bell/16:slap", band) == []


def test_one_that_does_not_speak_so_softly_is_not_offered():
    assert "gong" not in offered("p bell/1:bring=3")


def test_one_is_not_offered_where_the_change_to_the_next_would_be_too_hard():
    assert offered("mf bell/8 knell/8 bell/8 r/8", tempo=170) == ["knell"]
    far = LAMP.model_copy(
        update={
            "id": "far",
            "fingering": GONG.fingering,
            "tones": KNELL.tones,
            "limits": KNELL.limits,
            "dynamics": KNELL.dynamics,
            "neighbours": (),
        }
    )
    band = Collection({one.id: one for one in (BELL, far)}, {}, "two")
    # Alone it would serve; between two of the others nobody could get to it and back.
    assert offered("mf bell/8 r/long bell/8 r/long", band, tempo=160) == []
    assert offered("mf r/long bell/8 C5/8 r/long", band, tempo=160) == ["far"]
    assert offered("mf bell/8 bell/8 bell/8 bell/8", band, tempo=160) == []


@pytest.mark.parametrize(
    ("music", "tempo"),
    [("mf bell/8 bell/8 bell/8 bell/8", 160), ("p bell/1:bring=3 C5/1", 60)],
)
def test_swapping_in_what_is_offered_mends_it(music, tempo):
    data = tiny_score(Example(music, "", tempo=tempo))
    (name, *_) = offered(music, tempo=tempo)
    mended = swap(data, "M1", BAND[name]).placed.data
    assert check(mended, BAND).findings == ()


def test_in_a_change_the_one_before_may_be_exchanged_instead():
    report = check(tiny_score(Example("f gong/16 bell/4", "")), BAND)
    (finding,) = [one for one in report.findings if one.code == "change.too-hard"]
    places = {remedy.spot.label for remedy in finding.remedies if remedy.spot}
    assert places <= {"M1"}
    assert checked_score(read_score(tiny_score(Example("f gong/16 bell/4", "")))).turns[1].before

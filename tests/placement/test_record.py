"""What a score carries of its placements."""

import json

import pytest

from reedchord.errors import InputError
from reedchord.musicxml.document import read_score
from reedchord.musicxml.header import field_text
from reedchord.placement.place import place
from reedchord.placement.record import read_record, record_text
from samples import COLLECTION, HERON, RESTS, at, note, score

PLACED = place(RESTS, [at(2, 3, manner="slap")], COLLECTION)


def test_the_record_that_is_written_is_the_one_that_is_read():
    assert read_record(read_score(PLACED.data)) == PLACED.record


def test_a_row_says_where_a_chord_stands_and_what_it_shows():
    (row,) = PLACED.record.placements
    assert (row.number, row.label, row.bar) == (1, "M1", "2")
    assert (row.onset_quarters, row.duration_quarters) == ("2", "1")
    assert [str(pitch) for pitch in row.pitches] == ["E4", "B4-50", "G#5"]
    assert row.cents == ("-19", "14", "-12")
    assert (row.numbers, row.emphasised) == ((1, 2, 3), 2)
    assert row.ids == ("rc-1-1", "rc-1-2", "rc-1-3")


def test_the_wish_counts_bars_from_the_start_and_names_voice_and_staff():
    (row,) = PLACED.record.placements
    assert row.wish == at("@2", 3, manner="slap", voice=1, staff=1)


def test_the_whole_sonority_is_in_the_score():
    assert PLACED.record.sonorities == {"heron": HERON}


def test_the_text_is_plain_ascii_without_markup():
    odd = HERON.model_copy(update={"advice": "not <too> loud & “open”]]>"})
    record = PLACED.record.model_copy(update={"sonorities": {"heron": odd}})
    text = record_text(record)
    assert text.isascii()
    assert not set("<>&") & set(text)
    assert json.loads(text)["sonorities"]["heron"]["advice"] == odd.advice


def test_the_field_stands_in_the_header_as_plain_json():
    data = json.loads(field_text(read_score(PLACED.data)))
    assert (data["format"], data["version"]) == ("reedchord", 2)


def test_a_score_without_placements_has_no_record():
    assert read_record(read_score(RESTS)) is None


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (b'"number":1', b'"number":0'),
        (b'"format":"reedchord"', b'"format":"other"'),
        (b'"version":2', b'"version":9'),
        (b'"E4-19"', b'"H4-19"'),
        (b'{"format"', b'"format"'),
        (b'"label":"M1"', b'"label":"M1","extra":1'),
    ],
)
def test_a_field_that_was_changed_by_hand_is_told(old, new):
    assert old in PLACED.data
    with pytest.raises(InputError, match="changed by hand") as caught:
        place(PLACED.data.replace(old, new, 1), [], COLLECTION)
    assert caught.value.code == "record.broken"


def test_an_empty_field_is_no_record_that_can_be_read():
    header = (
        "<identification><miscellaneous>"
        '<miscellaneous-field name="reedchord"/></miscellaneous></identification>'
    )
    with pytest.raises(InputError) as caught:
        place(score(note() * 4, header=header), [at(1)], COLLECTION)
    assert caught.value.code == "record.broken"


def test_another_program_s_field_is_left_alone():
    other = '<miscellaneous-field name="other">reedchord</miscellaneous-field>'
    header = f"<identification><miscellaneous>{other}</miscellaneous></identification>"
    result = place(score(note() * 4, header=header), [at(1)], COLLECTION)
    assert other + '<miscellaneous-field name="reedchord">' in result.after

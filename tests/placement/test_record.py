"""What a score carries of its placements."""

import json
import re

import pytest

from reedchord.errors import InputError
from reedchord.musicxml.document import read_score
from reedchord.musicxml.header import field_text
from reedchord.placement.place import place
from reedchord.placement.record import read_record, record_text
from reedchord.placement.strip import strip
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


@pytest.mark.parametrize("odd", [" ", " a ", "&#9;", "\u00a0", "é", "", "x" * 3000])
def test_ids_that_the_score_had_are_read_back_as_they_are(odd):
    chord = (note("E4") + note("B4") + note("G5")).replace("<note>", f'<note id="{odd}">', 1)
    chord = "<note><chord/>".join(chord.rsplit("<note>", 2))
    for data, wish in (
        (score(chord + note(quarters=3)), at(1, as_written=True)),
        (score(note("C5").replace("<note>", f'<note id="{odd}">') + note() * 3), at(1)),
    ):
        placed = place(data, [wish], COLLECTION)
        assert read_record(read_score(placed.data)) == placed.record
        renamed = placed.data.replace(b"Alto Saxophone", b"Alto Saxophone 1")
        assert strip(renamed).data == data.replace(b"Alto Saxophone", b"Alto Saxophone 1")


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
        (b'"sonorities":{"heron"', b'"sonorities":{"egret"'),
        (b'"sonority":"heron"', b'"sonority":"heron","tremolo":"egret"'),
        (b'"bar":"@2"', b'"bar":"2"'),
        (b'"onset_quarters":"2"', b'"onset_quarters":"1e999999999"'),
        (b'"duration_quarters":"1"', b'"duration_quarters":"1/0"'),
        (b'"numbers":[1,2,3]', b'"numbers":[1,2]'),
        (b'"numbers":[1,2,3]', b'"numbers":[1,2,9]'),
        (b'"emphasised":2', b'"emphasised":9'),
        (b'"was":[[', b'"was":[["\\u003crest>"],['),
        (b'"was":[[', b'"was":[["\\u003crest/>\\u003crest/>"],['),
        (b'"was":[[', b'"lengths":["1","1","1"],"was":[['),
        (b'"edits":[[', b'"edits":[[1,-1,""],['),
        (b'"edits":[[', b'"edits":[[99999,0,""],['),
        (b'"edits":[[', b'"edits":[["1",2,3],['),
        (b'"format"', b'"x":' + b"[" * 100_000 + b"]" * 100_000 + b',"format"'),
    ],
)
def test_a_field_that_was_changed_by_hand_is_told(old, new):
    assert old in PLACED.data
    with pytest.raises(InputError, match="changed by hand") as caught:
        place(PLACED.data.replace(old, new, 1), [], COLLECTION)
    assert caught.value.code == "record.broken"


def test_a_way_back_that_leaves_the_score_or_leads_to_no_score_is_told():
    """The hash of what stands there holds, as only the way back was changed."""
    last = re.search(rb'\[(\d+),\d+,"(?:[^"\\\\]|\\\\.)*"\]\]\}', PLACED.data)
    for changed in (b'[%s,99999,""]]}' % last[1], b'[%s,1,"\\u003c/part>"]]}' % last[1]):
        for work in (strip, lambda data: place(data, [], COLLECTION)):
            with pytest.raises(InputError, match="changed by hand") as caught:
                work(PLACED.data.replace(last[0], changed))
            assert caught.value.code == "record.broken"


def test_what_stood_there_has_to_fit_the_bar_of_an_edited_score():
    edited = PLACED.data.replace(b"Alto Saxophone", b"Alto Saxophone 1")
    length = b"\\u003cduration>1\\u003c/duration>\\u003cvoice>1\\u003c/voice>"
    for more in (b"", length):
        rest = b"\\u003cnote>\\u003crest/>" + more + b"\\u003c/note>"
        with pytest.raises(InputError, match="does not fit the bar") as caught:
            strip(edited.replace(b'"was":[["', b'"was":[["' + rest + b'","'))
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

"""How placed sonorities look: noteheads, what is shown where, and the semitone grid."""

import pytest

from reedchord.chord_spelling import Grid
from reedchord.placement.place import place
from reedchord.placement.style import Marking, Shown, Style
from samples import COLLECTION, RESTS, at, events, shown

TWICE = [at(1), at(2)]


def noteheads(style):
    (chord, *_) = events(place(RESTS, [at(1)], COLLECTION, style).data)
    return [note.find("notehead") for note in chord.notes]


def test_tones_that_are_not_emphasised_are_grey_in_parentheses():
    low, emphasised, high = noteheads(Style())
    assert emphasised is None
    assert low.text == high.text == "normal"
    assert dict(low.attrib) == dict(high.attrib) == {"parentheses": "yes", "color": "#808080"}


def test_without_an_emphasised_tone_all_noteheads_are_ordinary():
    data = place(RESTS, [at(1, 1, "egret")], COLLECTION).data
    assert b"<notehead" not in data


def test_noteheads_may_be_diamonds():
    low, emphasised, high = noteheads(Style(marking=Marking.DIAMOND))
    assert emphasised is None
    assert low.text == high.text == "diamond"


def test_noteheads_may_be_left_alone():
    assert noteheads(Style(marking=Marking.NONE)) == [None] * 3


MARKUP = {
    "cents": '<lyric number="1" name="cents">',
    "fingering": "<fingering ",
    "source": "\ninvented</words>",
}


@pytest.mark.parametrize("what", MARKUP)
@pytest.mark.parametrize(
    ("where", "bars"), [(Shown.FIRST, [1]), (Shown.ALWAYS, [1, 2]), (Shown.NEVER, [])]
)
def test_what_is_shown_at_the_first_place_always_or_never(what, where, bars):
    text = place(RESTS, TWICE, COLLECTION, Style.model_validate({what: str(where)})).after
    measures = text.split("<measure ")[1:]
    assert [n for n, bar in enumerate(measures, start=1) if MARKUP[what] in bar] == bars


def test_the_footnote_has_label_fingering_and_evidence_at_every_place():
    text = place(RESTS, TWICE, COLLECTION).after
    footnote = (
        "<footnote>M1: left hand 1, 2, 3 and G sharp; right hand 1, 2, 3 and low C; "
        "invented</footnote>"
    )
    assert text.count(footnote) == 2


def test_the_source_is_brief_in_print_and_whole_in_the_footnote():
    text = place(RESTS, [at(1, 1, "bittern", carry=True)], COLLECTION).after
    assert "<words>M1\nMarshwood 2031\np. 7, carried</words>" in text
    assert (
        "Ada Marshwood, Sounds of the Reedbed, 2031 (invented for these tests), p. 7; carried"
        "</footnote>" in text
    )


def test_the_highest_tone_s_cents_stand_on_the_first_line():
    (chord, *_) = events(place(RESTS, [at(1)], COLLECTION).data)
    lyrics = chord.first.findall("lyric")
    assert [(lyric.get("number"), lyric.findtext("text")) for lyric in lyrics] == [
        ("1", "−12"),
        ("2", "+14"),
        ("3", "−19"),
    ]


def test_the_semitone_grid_has_whole_alterations_and_larger_cents():
    result = place(RESTS, [at(1)], COLLECTION, Style(grid=Grid.SEMITONE))
    (chord, *_) = events(result.data)
    assert shown(chord) == ["E4", "B4", "G#5"]
    assert [lyric.findtext("text") for lyric in chord.first.findall("lyric")] == [
        "−12",
        "−36",
        "−19",
    ]
    assert [note.findtext("pitch/alter") for note in chord.notes] == [None, None, "1"]


def test_a_score_keeps_its_style_until_another_is_wished():
    plain = Style(marking=Marking.NONE, grid=Grid.SEMITONE)
    once = place(RESTS, [at(1)], COLLECTION, plain)
    assert place(once.data, [at(2)], COLLECTION).record.style == plain
    anew = place(once.data, [at(2)], COLLECTION, Style())
    assert anew.data == place(RESTS, TWICE, COLLECTION, Style()).data


def test_neighbours_a_second_apart_are_grey_without_parentheses():
    # Parentheses would cover the neighbour: design note on portability, measured.
    record = COLLECTION["heron"].model_dump(mode="json", by_alias=True) | {
        "tones": [{"written": "E4"}, {"written": "F4"}, {"written": "D5"}],
        "emphasised": 3,
    }
    close = type(COLLECTION["heron"]).model_validate(record)
    data = place(RESTS, [at(1)], type(COLLECTION)({"heron": close}, {}, "samples")).data
    (chord, *_) = events(data)
    assert [note.find("notehead").get("parentheses") for note in chord.notes[:2]] == [None, None]

"""Placing, planning and swapping in edited scores with tremolos, trills and slurs of ours."""

import re

import pytest

from reedchord.collection import Collection
from reedchord.errors import ReedchordError
from reedchord.placement.held_plan import held_plan
from reedchord.placement.place import place
from reedchord.placement.plan import parse_plan
from reedchord.placement.strip import strip
from reedchord.placement.swap import SwapPlaces, swap
from samples import BAR_REST, COLLECTION, at, events, note, score, shown, sonority
from truth.musicxml_schema import schema_errors

TEAL = sonority("teal", "E4", "C5", "G5+60")
IBIS = sonority("ibis", "C5-10")
BAND = Collection({**COLLECTION.sonorities, "teal": TEAL, "ibis": IBIS}, {}, "samples")
HALVES = score(
    note("C5", 2, type_="half") + note("D5", 2, type_="half"),
    note("E5", 2, type_="half") + note("F5", 2, type_="half"),
    note("G5", 4, type_="whole"),
)
SLURRED = [at(1, slur=True), at(1, 3, "egret", slur=True), at(2, name="crane")]
BOTH_SLURS = [["start 1"], ["stop 1", "start 2"], ["stop 2"], [], []]


def edited(data: bytes) -> bytes:
    return data.replace(b"Alto Saxophone", b"Alto Saxophone 1")


def with_another_pitch(data: bytes) -> bytes:
    """Change a note of the second sonority."""
    changed = data.replace(b"<step>A</step>", b"<step>B</step>", 1)
    assert changed != data
    return changed


def without_second(data: bytes) -> bytes:
    """Write a rest where the second sonority was, its slurs gone with it."""
    body = data.index(b"<part id")
    start = data.index(b'<note id="rc-2-1"', body)
    end = data.index(b"</note>", data.index(b'<note id="rc-2-2"', body)) + len(b"</note>")
    return data[:start] + note(quarters=2, type_="half").encode() + data[end:]


PLACED = place(HALVES, SLURRED, BAND).data


def planned(data, *wishes):
    """Apply a plan, and see that it changes nothing when it is applied again."""
    result = place(data, wishes, BAND, whole=True)
    assert place(result.data, wishes, BAND, whole=True).data == result.data
    assert schema_errors(result.data) == []
    held = parse_plan(held_plan(result.data))
    again = place(result.data, held.placements, BAND, held.style, whole=True)
    assert again.data == result.data
    return result


def slurs(data):
    """Return the ends of slurs on each chord and rest of all bars: way and number."""
    return [
        sorted(
            (f"{slur.get('type')} {slur.get('number')}" for slur in event.first.iter("slur")),
            reverse=True,
        )
        for bar in (1, 2, 3)
        for event in events(data, bar)
    ]


def chords(data):
    return [shown(event) for bar in (1, 2, 3) for event in events(data, bar)]


def test_the_same_plan_changes_nothing():
    for data in (edited(PLACED), with_another_pitch(PLACED)):
        assert planned(data, *SLURRED).data == data


@pytest.mark.parametrize("change", [edited, with_another_pitch])
def test_without_slurs_in_the_plan_they_go_and_with_them_they_come_again(change):
    data = change(PLACED)
    bare = planned(data, at(1), at(1, 3, "egret"), at(2, name="crane"))
    assert slurs(bare.data) == [[]] * 5
    assert chords(bare.data) == chords(data)
    again = planned(bare.data, *SLURRED)
    assert slurs(again.data) == BOTH_SLURS
    assert chords(again.data) == chords(data)
    if change is edited:
        assert strip(again.data).data == edited(HALVES)


@pytest.mark.parametrize(
    "wishes",
    [
        [at(1, name="teal", slur=True), *SLURRED[1:]],
        [SLURRED[0], at(1, 3, "teal", slur=True), SLURRED[2]],
        [*SLURRED[:2], at(2, name="teal")],
        [SLURRED[0], at(1, 3, "teal", slur=True), at(2, name="egret")],
    ],
)
def test_slurs_lead_to_and_from_what_takes_a_place(wishes):
    result = planned(edited(PLACED), *wishes)
    assert slurs(result.data) == BOTH_SLURS
    assert chords(result.data) == chords(place(HALVES, wishes, BAND).data)
    assert strip(result.data).data == edited(HALVES)


def test_slurs_lead_on_from_and_to_a_chord_that_was_edited():
    data = with_another_pitch(PLACED)
    result = planned(data, at(1, name="teal", slur=True), SLURRED[1], at(2, name="teal"))
    assert slurs(result.data) == BOTH_SLURS
    assert shown(events(result.data)[1]) == ["C#4", "B4"]
    again = planned(result.data, SLURRED[0], SLURRED[1], at(2, name="teal"))
    assert slurs(again.data) == BOTH_SLURS
    assert chords(again.data) == [["E4", "Bqf4", "G#5"], ["C#4", "B4"], *chords(result.data)[2:]]


def test_a_new_slur_leads_to_what_stands_there():
    once = edited(place(HALVES, [at(1, 3, "egret")], BAND).data)
    result = place(once, [at(1, slur=True)], BAND)
    assert slurs(result.data)[:2] == [["start 1"], ["stop 1"]]
    assert strip(result.data).data == edited(HALVES)


def test_what_comes_after_a_chord_that_wants_a_slur_gets_its_end():
    """Somebody took the second one out by hand, and it is placed again."""
    data = without_second(PLACED)
    result = planned(data, *SLURRED)
    assert slurs(result.data) == BOTH_SLURS
    done = strip(result.data)
    assert [event.is_rest for event in events(done.data)] == [False, True]
    assert "<slur" not in done.after


def test_a_slur_to_a_chord_that_is_gone_goes_and_that_is_told():
    result = place(without_second(PLACED), [at(3)], BAND)
    assert slurs(result.data) == [[]] * 5
    assert [told for told in result.warnings if "slur" in told] == [
        "part P1 (Alto Saxophone), bar 1, beat 1: no slur leads on from M1 any more"
    ]
    rows = result.record.placements
    assert [(row.label, row.slur, row.wish.slur) for row in rows] == [
        ("M1", None, False),
        ("M3", None, False),
        ("M1", None, False),
    ]


def test_a_plan_whose_slur_leads_nowhere_is_refused_as_in_a_new_score():
    for data in (edited(PLACED), HALVES):
        with pytest.raises(ReedchordError) as wrong:
            place(data, [SLURRED[0], SLURRED[2]], BAND, whole=True)
        assert wrong.value.code == "slur.no-neighbour"


def test_a_slur_from_notes_that_stay_is_refused_as_in_a_new_score():
    wishes = [at(1, name="ibis", as_written=True), at(1, 3)]
    once = place(HALVES, wishes, BAND).data
    asked = [at(1, name="ibis", as_written=True, slur=True), at(1, 3)]
    for data in (HALVES, edited(once)):
        with pytest.raises(ReedchordError) as wrong:
            place(data, asked, BAND, whole=True)
        assert wrong.value.code == "as-written.changes"


@pytest.mark.parametrize("label", ["M1", "M2", "M3"])
def test_a_swap_keeps_slurs_on_both_sides_and_back_again(label):
    data = edited(PLACED)
    there = swap(data, label, TEAL).placed.data
    assert slurs(there) == BOTH_SLURS
    back = swap(there, "teal", COLLECTION[["heron", "egret", "crane"][int(label[1]) - 1]])
    assert slurs(back.placed.data) == BOTH_SLURS
    assert chords(back.placed.data) == chords(data)
    assert strip(back.placed.data).data == edited(HALVES)


def test_a_swap_beside_a_chord_that_was_edited_keeps_its_slur():
    there = swap(with_another_pitch(PLACED), "heron", TEAL)
    assert slurs(there.placed.data) == BOTH_SLURS
    assert there.left == ()
    assert schema_errors(there.placed.data) == []


def test_a_swap_where_the_next_one_is_gone_goes_without_a_slur():
    there = swap(without_second(PLACED), "heron", TEAL)
    assert slurs(there.placed.data) == [[]] * 5
    assert there.placed.record.placements[-1].wish.slur is False
    assert there.placed.warnings[-1] == (
        "part P1 (Alto Saxophone), bar 1, beat 1: no slur leads on from M1 any more"
    )


TURNS = [at(1, tremolo="egret", lasting="half"), at(1, 3, "crane", lasting="half", trill="egret")]
RESTS = score(BAR_REST.format(4), note("C5", 4, type_="whole"))


@pytest.mark.parametrize(
    "wishes",
    [
        [TURNS[0]],
        [at(1, tremolo="teal", lasting="half"), TURNS[1]],
        [at(1, name="teal", tremolo="egret", lasting="quarter"), TURNS[1]],
        [at(1, lasting="half", slur=True), TURNS[1]],
        [TURNS[0].model_copy(update={"slur": True}), TURNS[1], at(2, trill="crane")],
        [at(1, lasting="whole")],
        [at(2, tremolo="crane")],
    ],
)
def test_a_changed_plan_of_tremolos_and_trills(wishes):
    data = edited(planned(RESTS, *TURNS).data)
    result = planned(data, *wishes)
    fresh = planned(edited(RESTS), *wishes)
    assert [shown(e) for b in (1, 2) for e in events(result.data, b) if not e.is_rest] == [
        shown(e) for b in (1, 2) for e in events(fresh.data, b) if not e.is_rest
    ]
    done = strip(result.data)
    assert (done.left, done.stay) == ((), 0)
    assert all(event.is_rest for event in events(done.data))
    assert sum(event.duration_quarters for event in events(done.data)) == 4
    assert schema_errors(done.data) == []


def test_either_sonority_of_a_tremolo_is_swapped_in_an_edited_score():
    data = edited(place(RESTS, TURNS, BAND).data)
    own = swap(data, "heron", TEAL).placed.data
    assert [shown(event) for event in events(own)][:2] == [["E4", "C5", "Gqs5"], ["C#4", "A4"]]
    other = swap(own, "egret", COLLECTION["heron"], SwapPlaces(bar="1")).placed.data
    assert [shown(event) for event in events(other)] == [
        ["E4", "C5", "Gqs5"],
        ["E4", "Bqf4", "G#5"],
        ["B3", "D#5"],
        ["E4", "Bqf4", "G#5"],
    ]
    assert (
        re.findall(r"<tremolo[^>]*>", other.decode())
        == [
            '<tremolo type="start">',
            '<tremolo type="stop">',
        ]
        * 2
    )
    assert strip(other).data == edited(RESTS)

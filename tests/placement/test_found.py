"""Placements found again: by id, by label, by place and pitches."""

import re

import pytest

from reedchord.musicxml.document import read_score
from reedchord.placement.found import State, ToldBy, find_placements
from reedchord.placement.place import place
from samples import COLLECTION, RESTS, at, note, score

WANTED = [at(1, 2), at(2, 1, "egret"), at(3, 4)]
PLACED = place(RESTS, WANTED, COLLECTION)


def found(data):
    return find_placements(read_score(data), PLACED.record)


def without_ids(data):
    return re.sub(rb' id="rc-[^"]*"', b"", data)


def without_footnotes(data):
    return re.sub(rb"<footnote>.*?</footnote>", b"", data)


@pytest.mark.parametrize(
    ("change", "told_by"),
    [
        (lambda data: data, ToldBy.ID),
        (without_footnotes, ToldBy.ID),
        (without_ids, ToldBy.LABEL),
        (lambda data: without_footnotes(without_ids(data)), ToldBy.POSITION),
    ],
)
def test_each_way_of_finding(change, told_by):
    for one in found(change(PLACED.data)):
        assert (one.state, one.told_by, one.differences) == (State.INTACT, told_by, ())


BAR_BEFORE = re.compile(rb'(<measure number="2">)')
NEW_BAR = rb'<measure number="1a"><note><rest/><duration>4</duration></note></measure>\1'


@pytest.mark.parametrize("change", [lambda data: data, without_ids])
def test_bars_that_were_added_before_are_followed(change):
    moved = found(BAR_BEFORE.sub(NEW_BAR, change(PLACED.data)))
    assert [one.state for one in moved] == [State.INTACT] * 3
    assert [one.row_now().wish.bar for one in moved] == ["@1", "@3", "@4"]
    assert moved[1].row_now().bar == "2"


def test_by_place_and_pitches_alone_nothing_is_guessed():
    moved = BAR_BEFORE.sub(NEW_BAR, without_footnotes(without_ids(PLACED.data)))
    assert [one.state for one in found(moved)] == [State.INTACT, State.MISSING, State.MISSING]


def test_a_copy_of_a_chord_is_not_taken_for_the_chord():
    bar = re.search(rb'<measure number="1">.*?</measure>', PLACED.data, re.DOTALL)[0]
    copy = without_ids(bar).replace(b'number="1"', b'number="1a"')
    copy = re.sub(rb"<attributes>.*?</attributes>", b"", copy)
    for change in (lambda data: data, without_ids):
        data = change(PLACED.data).replace(b"\n</part>", copy + b"\n</part>")
        assert [one.row_now().wish.bar for one in found(data)] == ["@1", "@2", "@3"]


def test_which_notes_were_edited_is_said():
    data = PLACED.data.replace(b"<step>G</step>", b"<step>A</step>", 1)
    first, *others = found(data)
    assert first.state is State.EDITED
    assert first.differences == ("G♯5 is gone", "A♯5 is new")
    assert [one.state for one in others] == [State.INTACT] * 2


def test_another_spelling_is_no_edit():
    data = PLACED.data.replace(
        b"<step>C</step><alter>1</alter>", b"<step>D</step><alter>-1</alter>"
    )
    assert data != PLACED.data
    assert [one.state for one in found(data)] == [State.INTACT] * 3


def test_a_note_that_took_its_own_id_back_is_not_a_chord_of_ours():
    given = note("C5", 4, type_="whole").replace("<note>", '<note id="mine">')
    before = score(given)
    placed = place(before, [at(1)], COLLECTION)
    (one,) = find_placements(read_score(before), placed.record)
    assert one.state is State.MISSING

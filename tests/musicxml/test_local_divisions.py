"""Divisions that change around some notes, and what they would take with them."""

from fractions import Fraction

import pytest

from reedchord.musicxml.bar_texts import BarTexts
from reedchord.musicxml.document import read_score
from reedchord.musicxml.local_divisions import local_divisions
from reedchord.musicxml.splice import splice
from samples import note, score


def divisions(number, more=""):
    return f"<attributes><divisions>{number}</divisions>{more}</attributes>"


FINE = note("C5", 2, type_="quarter")
DIRECTION = "<direction><direction-type><words>M1</words></direction-type>{}</direction>"
OFFSET = DIRECTION.format("<offset>1</offset>")


def found(bar, notes, opening=1):
    """Return the second bar of a score, and the changes in it around some of its children."""
    read = read_score(score(note() * 4, bar))
    text = BarTexts(read).of(read.parts[0].bars[1])
    return read, text, list(local_divisions(text, opening and Fraction(opening), set(notes)))


def test_they_go_with_the_notes_between_them():
    bar = note() + divisions(2) + DIRECTION.format("") + FINE + FINE + divisions(1) + note()
    read, text, (local,) = found(bar, [3, 4])
    assert (local.notes, local.outside) == ({3, 4}, 1)
    after = splice(read.text, local.removal(text))
    assert after == read.text.replace(divisions(2), "").replace(divisions(1) + note(), note())


@pytest.mark.parametrize(
    ("bar", "notes"),
    [
        (divisions(2) + FINE + FINE + divisions(1), [1]),
        (divisions(2) + FINE + OFFSET + divisions(1), [1]),
        (divisions(2) + FINE + "<backup><duration>2</duration></backup>" + divisions(1), [1]),
        (divisions(2, "<staves>1</staves>") + FINE + divisions(1), [1]),
        (divisions(2) + FINE + divisions(4), [1]),
        (divisions(2) + FINE, [1]),
        (divisions(2) + divisions(1) + FINE, [2]),
    ],
)
def test_they_stay_where_something_else_counts_in_them_or_they_say_more(bar, notes):
    assert found(bar, notes)[2] == []


def test_what_holds_before_may_be_said_in_the_bar_itself():
    bar = divisions(2) + FINE + divisions(1)
    assert found(bar, [1], opening=None)[2] == []
    assert len(found(divisions(1) + bar, [2], opening=None)[2]) == 1

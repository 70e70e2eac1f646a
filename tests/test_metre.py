"""How lengths are spelled at their place in a bar: common practice, no source."""

from fractions import Fraction

import pytest

from reedchord.metre import chord_values, metre, rest_values

HALF = Fraction(1, 2)
METRES = {
    "4/4": metre(Fraction(4), Fraction(1)),
    "3/4": metre(Fraction(3), Fraction(1)),
    "2/2": metre(Fraction(2), Fraction(2)),
    "5/4": metre(Fraction(5), Fraction(1)),
    "6/8": metre(Fraction(6), HALF),
    "9/8": metre(Fraction(9), HALF),
    "12/8": metre(Fraction(12), HALF),
    "7/8": metre(Fraction(7), HALF),
    "free": metre(None, Fraction(1)),
}


def spelled(values):
    return " ".join(map(str, values or ["none"]))


@pytest.mark.parametrize(
    ("name", "start", "end", "expected"),
    [
        ("4/4", "0", "4", "whole"),
        ("4/4", "0", "3", "half."),
        ("4/4", "1", "3", "half"),  # the one syncope that everybody reads
        ("4/4", "1", "4", "half."),
        ("4/4", "1/2", "3/2", "quarter"),
        ("4/4", "1/4", "1", "eighth."),
        ("4/4", "3/2", "5/2", "eighth eighth"),  # the middle of the bar is shown
        ("4/4", "1/2", "4", "quarter. half"),
        ("4/4", "0", "5/2", "half eighth"),
        ("3/4", "1", "3", "half"),
        ("2/2", "1", "3", "half"),
        ("5/4", "0", "5", "half. half"),
        ("6/8", "0", "3", "half."),
        ("6/8", "0", "2", "quarter. eighth"),
        ("6/8", "1", "2", "eighth eighth"),
        ("9/8", "0", "9/2", "half. quarter."),
        ("12/8", "3/2", "9/2", "half."),
        ("7/8", "0", "7/2", "half quarter."),
        ("free", "0", "5", "half. half"),
    ],
)
def test_a_chord_shows_the_beats(name, start, end, expected):
    assert spelled(chord_values(METRES[name], Fraction(start), Fraction(end))) == expected


@pytest.mark.parametrize(
    ("name", "start", "end", "expected"),
    [
        ("4/4", "0", "2", "half"),
        ("4/4", "1", "3", "quarter quarter"),
        ("4/4", "1", "4", "quarter half"),
        ("4/4", "1/2", "3/2", "eighth eighth"),
        ("4/4", "0", "3", "half quarter"),
        ("3/4", "1", "3", "quarter quarter"),
        ("6/8", "0", "1", "quarter"),
        ("6/8", "1/2", "3/2", "eighth eighth"),
        ("6/8", "0", "3/2", "quarter."),
        ("6/8", "3/2", "3", "quarter."),
        ("12/8", "3", "6", "half."),
    ],
)
def test_a_rest_fills_beats_and_does_not_lead_over_them(name, start, end, expected):
    assert spelled(rest_values(METRES[name], Fraction(start), Fraction(end))) == expected


def test_a_pickup_bar_counts_from_its_end():
    pickup = metre(Fraction(4), Fraction(1), bar_quarters=Fraction(5, 2))
    assert spelled(chord_values(pickup, Fraction(0), Fraction(5, 2))) == "eighth half"


def test_a_third_of_a_beat_has_no_value():
    assert chord_values(METRES["4/4"], Fraction(0), Fraction(1, 3)) is None
    assert rest_values(METRES["4/4"], Fraction(1, 3), Fraction(1)) is None


def test_a_bar_without_metre_may_be_very_long():
    values = chord_values(METRES["free"], Fraction(0), Fraction(401))
    assert values is not None
    assert sum(value.quarters for value in values) == 401

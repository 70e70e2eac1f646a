"""Lengths as people write them."""

from fractions import Fraction

import pytest

from reedchord.errors import InputError
from reedchord.lasting import End, Length, parse_lasting, parse_length


@pytest.mark.parametrize(
    ("text", "quarters"),
    [
        ("half", 2),
        ("minim", 2),
        ("quarter.", Fraction(3, 2)),
        ("half..", Fraction(7, 2)),
        ("dotted crotchet", Fraction(3, 2)),
        ("half+eighth", Fraction(5, 2)),
        ("half + eighth", Fraction(5, 2)),
        ("3/8", Fraction(3, 2)),
        ("4/4", 4),
    ],
)
def test_a_length(text, quarters):
    length = parse_lasting(text)
    assert isinstance(length, Length)
    assert length.quarters == quarters
    assert parse_lasting(str(length)) == length


@pytest.mark.parametrize(
    ("text", "bar", "beat"),
    [
        ("to bar 14 beat 1", "14", 1),
        ("to bar 14", "14", 1),
        ("To Bar X1, beat 2.5", "X1", Fraction(5, 2)),
        ("to bar @8 beat 2+1/3", "@8", Fraction(7, 3)),
    ],
)
def test_an_end(text, bar, beat):
    end = parse_lasting(text)
    assert end == End(bar, Fraction(beat))
    assert parse_lasting(str(end)) == end


@pytest.mark.parametrize("text", ["", "3 halves", "0/4", "half+", "to bar", "till noon", "-1/4"])
def test_what_is_no_length_is_told_with_examples(text):
    with pytest.raises(InputError) as wrong:
        parse_lasting(text)
    assert wrong.value.code == "rhythm.length"
    assert "to bar 14 beat 1" in str(wrong.value)


def test_a_beat_that_is_none():
    with pytest.raises(InputError, match="is no beat"):
        parse_lasting("to bar 3 beat 0")
    with pytest.raises(InputError, match="is no length"):
        parse_length("0/8")

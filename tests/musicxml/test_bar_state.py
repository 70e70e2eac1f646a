"""What `<attributes>` say, and to which staff."""

from fractions import Fraction

import pytest
from lxml import etree

from reedchord.errors import InputError
from reedchord.musicxml.bar_state import (
    BarState,
    Transpose,
    decimal_number,
    positive_number,
    states_at_bars,
)
from reedchord.musicxml.document import read_score
from samples import note, score


def state(*attributes):
    result = BarState()
    for text in attributes:
        result = result.after(etree.fromstring(f"<attributes>{text}</attributes>"))
    return result


def time(beats, beat_type):
    return f"<time><beats>{beats}</beats><beat-type>{beat_type}</beat-type></time>"


@pytest.mark.parametrize(
    ("metre", "beat_quarters", "bar_quarters"),
    [
        (time(4, 4), 1, 4),
        (time(6, 8), Fraction(1, 2), 3),
        (time(3, 2), 2, 6),
        (time("3+2", 8), Fraction(1, 2), Fraction(5, 2)),
        (time("3 + 2 + 3", 16), Fraction(1, 4), 2),
        (
            (
                "<time><beats>2</beats><beat-type>4</beat-type><beats>3</beats><beat-type>8"
                "</beat-type></time>"
            ),
            Fraction(1, 2),
            Fraction(7, 2),
        ),
        ("<time><senza-misura/></time>", 1, None),
        ("", 1, None),
    ],
)
def test_beat_and_bar(metre, beat_quarters, bar_quarters):
    found = state(metre)
    assert found.beat_quarters == beat_quarters
    assert found.bar_quarters == bar_quarters


def test_what_is_not_said_again_holds_on():
    found = state("<divisions>4</divisions>" + time(3, 4), "<divisions>8</divisions>")
    assert (found.divisions, found.bar_quarters) == (8, 3)


def test_divisions_may_be_decimal():
    assert state("<divisions> 2.0 </divisions>").divisions == 2


ALTO = "<transpose><diatonic>-5</diatonic><chromatic>-9</chromatic></transpose>"


def test_a_transposition_holds_for_all_staves_until_one_has_its_own():
    found = state(ALTO, '<transpose number="2"><chromatic>-2</chromatic></transpose>')
    assert found.transpose() == Transpose(-9, -5)
    assert found.transpose("2") == Transpose(-2, None)
    again = state('<transpose number="1"><chromatic>-2</chromatic></transpose>', ALTO)
    assert again.transpose() == Transpose(-9, -5)


def test_an_octave_change_is_twelve_semitones_and_seven_steps():
    # MusicXML 4.0, element transpose: octave-change is added to chromatic and diatonic.
    text = "<diatonic>-1</diatonic><chromatic>-2</chromatic><octave-change>-1</octave-change>"
    assert state(f"<transpose>{text}</transpose>").transpose() == Transpose(-14, -8)
    assert state(f"<transpose>{text}<double/></transpose>").transpose().doubled


def test_no_transposition():
    assert state("").transpose() is None


@pytest.mark.parametrize(
    ("fifths", "altered"),
    [
        (0, {}),
        (1, {"F": 1}),
        (3, {"F": 1, "C": 1, "G": 1}),
        (-2, {"B": -1, "E": -1}),
        (7, dict.fromkeys("CDEFGAB", 1)),
        (-7, dict.fromkeys("CDEFGAB", -1)),
    ],
)
def test_a_key_signature_alters_steps(fifths, altered):
    # The order of sharps and flats: common practice, no source.
    found = state(f"<key><fifths>{fifths}</fifths></key>")
    assert {step: found.key_alter(step) for step in "CDEFGAB" if found.key_alter(step)} == altered


def test_a_key_of_one_staff():
    found = state("<key><fifths>1</fifths></key>", '<key number="2"><fifths>-1</fifths></key>')
    assert (found.key_alter("F"), found.key_alter("F", "2")) == (1, 0)
    assert found.key_alter("B", "2") == -1


@pytest.mark.parametrize("text", ["0", "-1", "", "x", "1e3", "1/2", "nan", "٣" * 41])
def test_numbers_that_are_no_divisions(text):
    with pytest.raises(InputError) as caught:
        positive_number(text, "divisions")
    assert caught.value.code == "score.number"
    assert "<divisions>" in str(caught.value)


@pytest.mark.parametrize(
    ("text", "number"), [("0", 0), ("4.0", 4), (" 12 ", 12), (".5", Fraction(1, 2)), ("3.", 3)]
)
def test_durations_are_decimals(text, number):
    assert decimal_number(text, "duration") == number


@pytest.mark.parametrize(
    "attributes",
    [
        "<transpose/>",
        "<transpose><chromatic>x</chromatic></transpose>",
        "<transpose><chromatic>1e999999999</chromatic></transpose>",
        "<transpose><chromatic>0.5</chromatic></transpose>",
        "<key><fifths>many</fifths></key>",
        time("four", 4),
        time(4, "x"),
        time("4+", 4),
    ],
)
def test_attributes_that_cannot_be_read(attributes):
    with pytest.raises(InputError):
        state(attributes)


def test_states_come_bar_by_bar():
    data = score(note(), note(), note()).replace(
        b'<measure number="2">',
        b'<measure number="2"><attributes><divisions>8</divisions></attributes>',
    )
    states = list(states_at_bars(read_score(data).parts[0]))
    assert [one.divisions for one in states] == [None, 1, 8]

"""Pitches as they are typed, spelled, moved and heard."""

from fractions import Fraction

import pytest

from reedchord.errors import InputError
from reedchord.pitch import (
    A4_CENTS,
    Pitch,
    parse_pitch,
    pitch_from_cents,
    pitch_from_hz,
    signed_cents_text,
)


@pytest.mark.parametrize(
    ("text", "step", "octave", "alteration"),
    [
        ("C4", "C", 4, 0),
        ("g5+31", "G", 5, 31),
        ("Bb3", "B", 3, -100),
        ("bb3", "B", 3, -100),
        ("b3", "B", 3, 0),
        ("bbb3", "B", 3, -200),
        ("C#6-18", "C", 6, 82),
        ("C♯6 −18¢", "C", 6, 82),
        ("F##4", "F", 4, 200),
        ("Fx4", "F", 4, 200),
        ("E♭♭4", "E", 4, -200),
        ("B𝄫3 +7 cents", "B", 3, -193),
        ("Fqs4", "F", 4, 50),
        ("F𝄲4", "F", 4, 50),
        ("Btqf4", "B", 4, -150),
        ("G three-quarters-sharp 4", "G", 4, 150),
        ("E flat 4", "E", 4, -100),
        ("Fsharp4 + 5 ct", "F", 4, 105),
        ("An4", "A", 4, 0),
        ("A♮4±0", "A", 4, 0),
        ("C-1", "C", -1, 0),
        ("C−1-12", "C", -1, -12),
        ("C10", "C", 10, 0),
        ("D5+2.5", "D", 5, Fraction(5, 2)),
        ("D5-1/3", "D", 5, Fraction(-1, 3)),
        ("  D 5  ", "D", 5, 0),
    ],
)
def test_pitches_are_read_as_they_are_typed(text, step, octave, alteration):
    assert parse_pitch(text) == Pitch(step, octave, Fraction(alteration))


@pytest.mark.parametrize(
    ("text", "column", "expected"),
    [
        ("", 1, "a step from A to G"),
        ("  ", 3, "a step from A to G"),
        ("H4", 1, "a step from A to G"),
        ("G", 2, "an accidental or an octave"),
        ("cX4", 2, "an accidental or an octave"),
        ("Cquarter-shrp4", 12, "an accidental or an octave"),
        ("Bb", 3, "an octave"),
        ("Bb flat 3", 4, "an octave"),
        ("G55", 3, "the end, or + or - and cents"),
        ("C4 31", 4, "the end, or + or - and cents"),
        ("C4+", 4, "a number of cents"),
        ("C4+x", 4, "a number of cents"),
        ("C4+31x", 6, "the end"),
        ("C4+31 cents!", 12, "the end"),
        ("Bb3+1,5", 6, "the end"),
        ("F4+1/0", 5, "the end"),
        ("F4+3e2", 5, "the end"),
        ("C4±5", 3, "+ or -, since ± tells no direction"),
        ("C4+" + "9" * 5000, 44, "the end"),
    ],
)
def test_the_pointer_stands_under_the_first_character_that_does_not_fit(text, column, expected):
    with pytest.raises(InputError) as error:
        parse_pitch(text)
    said, shown, pointer = error.value.message.split("\n")
    assert said.endswith(f"is no pitch: column {column} should be {expected}")
    assert pointer == "  " + " " * (column - 1) + "^"
    assert shown[2:].startswith(text[: column + 20])
    assert error.value.code == "pitch.text"
    assert "G5+31" in error.value.hint


def test_a_pointer_survives_tabs_and_line_feeds():
    with pytest.raises(InputError) as error:
        parse_pitch("C\t4\n+x")
    assert error.value.message.split("\n")[1:] == ["  C 4 +x", "       ^"]


def test_height_counts_cents_from_middle_c_at_6000():
    assert parse_pitch("C4").cents == 6000
    assert parse_pitch("A4").cents == A4_CENTS
    assert parse_pitch("Fqs4-19").cents == 6531
    assert parse_pitch("Cb4").cents == parse_pitch("B3").cents
    assert parse_pitch("B#3").cents == parse_pitch("C4").cents
    assert parse_pitch("Cb4").staff_position == parse_pitch("B3").staff_position + 1


@pytest.mark.parametrize(
    ("text", "plain", "quarter_tones", "printed"),
    [
        ("F4+31", "F4+31", "Fqs4-19", "F4 +31¢"),
        ("F4+25", "F4+25", "F4+25", "F4 +25¢"),
        ("F4+26", "F4+26", "Fqs4-24", "F4 +26¢"),
        ("F4+50", "F4+50", "Fqs4", "F4 +50¢"),
        ("F4+50.5", "F#4-49.5", "Fqs4+0.5", "F♯4 −49.5¢"),
        ("B4-50", "B4-50", "Bqf4", "B4 −50¢"),
        ("Btqf4", "Bb4-50", "Btqf4", "B♭4 −50¢"),
        ("B4-1/3", "B4-1/3", "B4-1/3", "B4 −1/3¢"),
        ("F##4", "F##4", "F##4", "F𝄪4"),
        ("F##4+120", "F##4+120", "F##4+120", "F𝄪4 +120¢"),
        ("Ebb4-250", "Ebb4-250", "Ebb4-250", "E𝄫4 −250¢"),
        ("C-1-7", "C-1-7", "C-1-7", "C−1 −7¢"),
    ],
)
def test_pitches_are_written_in_three_ways(text, plain, quarter_tones, printed):
    pitch = parse_pitch(text)
    assert str(pitch) == plain
    assert pitch.quarter_tone_text() == quarter_tones
    assert pitch.printed() == printed


def test_half_way_stays_with_the_nearer_natural():
    assert parse_pitch("F4+50").accidental_cents == 0
    assert parse_pitch("F4+50").deviation_cents == 50
    assert parse_pitch("F4-50").accidental_cents == 0
    assert parse_pitch("F4+51").accidental_cents == 100
    assert parse_pitch("F4+51").deviation_cents == -49
    assert parse_pitch("F4+150").accidental_cents == 100


@pytest.mark.parametrize(
    ("cents", "text"),
    [
        (6000, "C4"),
        (6050, "C4+50"),
        (Fraction(12101, 2), "C#4-49.5"),
        (6100, "C#4"),
        (6350, "D#4+50"),
        (6351, "E4-49"),
        (6450, "E4+50"),
        (6451, "F4-49"),
        (7150, "B4+50"),
        (7151, "C5-49"),
        (7199, "C5-1"),
        (7200, "C5"),
        (0, "C-1"),
        (-1, "C-1-1"),
        (-51, "B-2+49"),
    ],
)
def test_a_height_is_spelled_with_the_nearest_natural_or_sharp(cents, text):
    assert str(pitch_from_cents(Fraction(cents))) == text


@pytest.mark.parametrize(
    ("hz", "text"),
    [(440.0, "A4"), (220.0, "A3"), (261.6255653, "C4"), (452.9, "A#4-49.97"), (20.0, "D#0+48.68")],
)
def test_a_frequency_is_named_to_a_hundredth_of_a_cent(hz, text):
    assert str(pitch_from_hz(hz)) == text


def test_a_frequency_follows_the_tuning():
    assert str(pitch_from_hz(442.0, a4_hz=442.0)) == "A4"
    assert parse_pitch("A4").hz(442.0) == 442.0


@pytest.mark.parametrize(
    ("hz", "a4_hz"),
    [
        (0.0, 440.0),
        (-1.0, 440.0),
        (float("nan"), 440.0),
        (float("inf"), 440.0),
        (440.0, 0.0),
        (440.0, float("inf")),
        (440.0, float("nan")),
    ],
)
def test_what_is_no_frequency_is_told(hz, a4_hz):
    with pytest.raises(InputError, match="is no pitch") as error:
        pitch_from_hz(hz, a4_hz)
    assert error.value.code == "pitch.hz"


def test_extreme_frequencies_are_no_crash():
    assert pitch_from_hz(5e-324).cents < 0 < pitch_from_hz(1.7e308).cents


def test_moving_keeps_the_letter_distance_and_the_cents():
    assert str(parse_pitch("F#5-12").transposed(semitones=-9, steps=-5)) == "A4-12"
    assert str(parse_pitch("B4+31").transposed(semitones=1, steps=1)) == "C5+31"
    assert str(parse_pitch("B4").transposed(semitones=2, steps=1)) == "C#5"
    assert str(parse_pitch("C4").transposed(semitones=-2, steps=-1)) == "Bb3"


def test_what_cannot_be_spelled_is_told():
    assert parse_pitch("C##4+250").alteration_cents == 450
    with pytest.raises(InputError, match="C4 altered by 451 cents cannot be spelled") as error:
        parse_pitch("C##4+251")
    assert error.value.code == "pitch.alteration"
    with pytest.raises(InputError, match="'H' is no step") as error:
        Pitch("H", 4)
    assert error.value.code == "pitch.step"


def test_signed_cents():
    assert [signed_cents_text(Fraction(cents)) for cents in (31, -18, 0)] == ["+31", "-18", "0"]
    assert signed_cents_text(Fraction(5, 2)) == "+2.5"
    assert signed_cents_text(Fraction(1, 3)) == "+1/3"

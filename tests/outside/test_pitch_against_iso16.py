"""Frequencies against ISO 16 (A4 = 440 Hz), equal temperament, and against music21."""

import pytest
from music21 import pitch

from reedchord.pitch import A4_CENTS, parse_pitch, pitch_from_cents, pitch_from_hz

# ISO 16:1975 sets A4 = 440 Hz; the others follow as 440 * 2**((n - 69) / 12), n the MIDI note
# number, and stand in any table of equal temperament (here recomputed, to three decimals).
TABLE = {
    "A4": 440.0,
    "C4": 261.626,
    "C#4": 277.183,
    "Ab4": 415.305,
    "Bb3": 233.082,
    "C#3": 138.591,
    "Ab2": 103.826,
}


@pytest.mark.parametrize(("text", "hz"), TABLE.items())
def test_frequencies_are_those_of_the_table(text, hz):
    assert parse_pitch(text).hz() == pytest.approx(hz, abs=0.0005)


@pytest.mark.parametrize(("text", "hz"), TABLE.items())
def test_names_are_those_of_the_table(text, hz):
    assert abs(pitch_from_hz(hz).cents - parse_pitch(text).cents) <= 1 / 100


@pytest.mark.parametrize("number", range(21, 109))
def test_every_key_of_the_piano_sounds_as_in_music21(number):
    ours, theirs = pitch_from_cents(100 * number), pitch.Pitch(number)
    assert ours.hz() == pytest.approx(theirs.frequency, rel=1e-12)
    assert (ours.step, ours.octave) == (pitch_from_hz(theirs.frequency).step, theirs.octave)


def test_a_quarter_tone_lies_half_way_as_in_music21():
    theirs = pitch.Pitch("F~4")  # music21's sign for a quarter sharp
    assert parse_pitch("Fqs4").hz() == pytest.approx(theirs.frequency, rel=1e-12)


def test_an_octave_doubles_and_a_cent_is_the_1200th_root_of_two():
    assert parse_pitch("A5").hz() == 880.0
    assert parse_pitch("A4+1").hz() / 440.0 == pytest.approx(2 ** (1 / 1200), rel=1e-12)
    assert parse_pitch("A4").cents == A4_CENTS == 100 * pitch.Pitch("A4").midi

"""English and German names of pitches."""

import pytest
from music21 import pitch as music21_pitch

from reedchord.errors import RequestError
from reedchord.pitch import parse_pitch
from reedchord.pitch_names import PitchNames, named, pitch_names


@pytest.mark.parametrize("step", "CDEFGAB")
@pytest.mark.parametrize("accidental", ["", "#", "##", "b", "bb"])
def test_german_names_are_those_of_music21(step, accidental):
    """music21's `Pitch.german` knows the names, octaves aside."""
    theirs = music21_pitch.Pitch(step + accidental.replace("b", "-")).german
    assert named(parse_pitch(f"{step}{accidental}4"), PitchNames.GERMAN) == f"{theirs}4"


@pytest.mark.parametrize(
    ("text", "english", "german"),
    [
        ("F#5+31", "F♯5 +31¢", "Fis5 +31¢"),
        ("Bb3", "B♭3", "B3"),
        ("B3-18", "B3 −18¢", "H3 −18¢"),
        ("A4", "A4", "A4"),
        ("C-1+12.5", "C−1 +12.5¢", "C−1 +12.5¢"),
        # A natural and 50 cents, as the rounding of pitches has it.
        ("Bqf4", "B4 −50¢", "H4 −50¢"),
    ],
)
def test_cents_and_octaves_stay(text, english, german):
    pitch = parse_pitch(text)
    assert named(pitch) == english
    assert named(pitch, PitchNames.GERMAN) == german


def test_an_unknown_style_is_refused():
    assert pitch_names("german") is PitchNames.GERMAN
    with pytest.raises(RequestError) as wrong:
        pitch_names("germn")
    assert wrong.value.hint == "Did you mean german?"

"""English and German names of pitches."""

import pytest
from music21 import pitch as music21_pitch

from reedchord.errors import RequestError
from reedchord.pitch import parse_pitch
from reedchord.pitch_names import PitchNames, note_name, pitch_names
from reedchord.reader import Reader, told_to

GERMAN = Reader(pitch_names=PitchNames.GERMAN)


@pytest.mark.parametrize("step", "CDEFGAB")
@pytest.mark.parametrize("accidental", ["", "#", "##", "b", "bb"])
def test_german_names_are_those_of_music21(step, accidental):
    """music21's `Pitch.german` knows the names, octaves aside."""
    theirs = music21_pitch.Pitch(step + accidental.replace("b", "-")).german
    cents = int(parse_pitch(f"{step}{accidental}4").alteration_cents)
    assert note_name(step, cents, PitchNames.GERMAN) == theirs


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
    assert pitch.printed() == english
    with told_to(GERMAN):
        assert pitch.printed() == german


@pytest.mark.parametrize(
    ("text", "english", "german"),
    [
        ("F4+31", "F½♯4 −19¢", "F½♯4 −19¢"),
        ("C#6+37", "C1½♯6 −13¢", "C1½♯6 −13¢"),
        ("Dqf6-13", "D½♭6 −13¢", "D½♭6 −13¢"),
        ("Bqf3", "B½♭3", "H½♭3"),
        ("Btqf3", "B1½♭3", "H1½♭3"),
        ("F#4-12", "F♯4 −12¢", "Fis4 −12¢"),
    ],
)
def test_quarter_tones_as_a_score_shows_them(text, english, german):
    pitch = parse_pitch(text)
    assert pitch.printed_as_shown() == english
    assert parse_pitch(english) == pitch
    with told_to(GERMAN):
        assert pitch.printed_as_shown() == german


def test_an_unknown_style_is_refused():
    assert pitch_names("german") is PitchNames.GERMAN
    with pytest.raises(RequestError) as wrong:
        pitch_names("germn")
    assert wrong.value.hint == "Did you mean german?"

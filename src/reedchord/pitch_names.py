"""Names of pitches for people: the English ones and the German ones, octaves as C4 alike."""

from __future__ import annotations

from enum import StrEnum

from reedchord.errors import RequestError, did_you_mean
from reedchord.pitch import Pitch, signed_cents_text


class PitchNames(StrEnum):
    """Whose names of notes are used."""

    ENGLISH = "english"
    GERMAN = "german"


ABOUT_NAMES = {
    PitchNames.ENGLISH: "C4 is middle C.",
    PitchNames.GERMAN: (
        "Pitches have German names: H is B natural, B is B flat, Fis is F sharp, Es is E flat; "
        "C4 is middle C. Keys keep their English names."
    ),
}
"""What a reader must know before the first name."""

_ENDINGS = {-200: "eses", -100: "es", 0: "", 100: "is", 200: "isis"}


def pitch_names(name: str) -> PitchNames:
    """Return the style with this name; raises RequestError with the styles there are."""
    if name not in list(PitchNames):
        raise RequestError(
            "pitch.names",
            f"{name!r} is no style of pitch names",
            hint=did_you_mean(name, PitchNames),
        )
    return PitchNames(name)


def named(pitch: Pitch, names: PitchNames = PitchNames.ENGLISH) -> str:
    """Return a pitch for people: `F♯4 −12¢`, in German `Fis4 −12¢`."""
    if names is PitchNames.ENGLISH:
        return pitch.printed()
    accidental = max(-200, min(200, pitch.accidental_cents))
    cents = pitch.alteration_cents - accidental
    words = f"{_german(pitch.step, accidental)}{pitch.octave}"
    if cents:
        words += f" {signed_cents_text(cents)}¢"
    return words.replace("-", "−")


def _german(step: str, accidental_cents: int) -> str:
    """Return step and accidental: B alone is the flat, E and A lose a vowel before `es`."""
    if step == "B":
        if accidental_cents == -100:
            return "B"
        step = "H"
    ending = _ENDINGS[accidental_cents]
    return step + (ending[1:] if step in "EA" and ending.startswith("e") else ending)

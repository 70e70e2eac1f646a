"""Names of notes for people, by step and accidental: the English ones and the German ones."""

from __future__ import annotations

from enum import StrEnum

from reedchord.errors import RequestError, did_you_mean


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

QUARTER_TONE_SIGNS = {-150: "1½♭", -50: "½♭", 50: "½♯", 150: "1½♯"}
"""Quarter tones by their cents: half a sharp is what one of them alters a note by."""

_SIGNS = {-200: "𝄫", -100: "♭", 0: "", 100: "♯", 200: "𝄪"} | QUARTER_TONE_SIGNS
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


def note_name(step: str, accidental_cents: int, names: PitchNames) -> str:
    """Return step and accidental, a multiple of 50 cents within two semitones: `F♯`, `Fis`, `B½♭`.

    In German B alone is the flat, E and A lose a vowel before `es`, and quarter tones keep
    their signs.
    """
    if names is PitchNames.ENGLISH:
        return step + _SIGNS[accidental_cents]
    if step == "B":
        if accidental_cents == -100:
            return "B"
        step = "H"
    if accidental_cents in QUARTER_TONE_SIGNS:
        return step + QUARTER_TONE_SIGNS[accidental_cents]
    ending = _ENDINGS[accidental_cents]
    return step + (ending[1:] if step in "EA" and ending.startswith("e") else ending)

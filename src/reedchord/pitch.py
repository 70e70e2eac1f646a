"""Exact pitches: step, octave and an alteration in cents that is a rational number."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from fractions import Fraction

from reedchord.errors import InputError
from reedchord.numbers_as_text import decimal_text

STEPS = "CDEFGAB"
NATURAL_CENTS = {"C": 0, "D": 200, "E": 400, "F": 500, "G": 700, "A": 900, "B": 1100}
CENTS_PER_OCTAVE = 1200
A4_CENTS = 6900
"""A4 on the scale where middle C (C4) lies at 6000: a hundred times the MIDI note number."""

MAX_ALTERATION_CENTS = 450

_ACCIDENTAL_CENTS = {
    "": 0,
    "#": 100,
    "♯": 100,
    "##": 200,
    "x": 200,
    "♯♯": 200,
    "𝄪": 200,
    "b": -100,
    "♭": -100,
    "bb": -200,
    "♭♭": -200,
    "𝄫": -200,
    "n": 0,
    "♮": 0,
    "qs": 50,
    "𝄲": 50,
    "quarter-sharp": 50,
    "qf": -50,
    "𝄳": -50,
    "quarter-flat": -50,
    "tqs": 150,
    "three-quarters-sharp": 150,
    "tqf": -150,
    "three-quarters-flat": -150,
}
_ACCIDENTALS = "|".join(
    re.escape(text) for text in sorted(_ACCIDENTAL_CENTS, key=len, reverse=True) if text
)
_PITCH = re.compile(
    rf"""\s*(?P<step>[A-Ga-g])
    \s*(?P<accidental>{_ACCIDENTALS})?
    \s*(?P<octave>-?\d)
    (?:\s*(?P<sign>[+\-−±])\s*(?P<cents>\d+(?:\.\d+|/[1-9]\d*)?)\s*(?:¢|ct|cents?)?)?
    \s*""",
    re.VERBOSE,
)
_PLAIN_SIGNS = {-200: "bb", -100: "b", 0: "", 100: "#", 200: "##"}
_PRINTED_SIGNS = {-200: "𝄫", -100: "♭", 0: "", 100: "♯", 200: "𝄪"}
_QUARTER_SIGNS = _PLAIN_SIGNS | {-150: "tqf", -50: "qf", 50: "qs", 150: "tqs"}


@dataclass(frozen=True)
class Pitch:
    """One pitch as it is spelled; middle C is C4, `alteration_cents` counts from the natural."""

    step: str
    octave: int
    alteration_cents: Fraction = Fraction(0)

    def __post_init__(self) -> None:
        if self.step not in NATURAL_CENTS:
            raise InputError("pitch.step", f"{self.step!r} is no step; use one of {STEPS}")
        object.__setattr__(self, "alteration_cents", Fraction(self.alteration_cents))
        if abs(self.alteration_cents) > MAX_ALTERATION_CENTS:
            raise InputError(
                "pitch.alteration",
                f"{self.step}{self.octave} altered by {cents_text(self.alteration_cents)} cents "
                "cannot be spelled",
                hint="Choose a nearer step.",
            )

    @property
    def cents(self) -> Fraction:
        """Height in cents on the scale where C4 is 6000 and A4 is 6900."""
        natural = NATURAL_CENTS[self.step] + CENTS_PER_OCTAVE * (self.octave + 1)
        return natural + self.alteration_cents

    @property
    def staff_position(self) -> int:
        """Diatonic steps above C0: two pitches on one line or space share it."""
        return 7 * self.octave + STEPS.index(self.step)

    @property
    def accidental_cents(self) -> int:
        """The conventional accidental nearest to the alteration: a multiple of 100 cents."""
        return 100 * _nearest_whole(self.alteration_cents / 100)

    @property
    def deviation_cents(self) -> Fraction:
        """Cents by which the pitch lies above its conventional accidental."""
        return self.alteration_cents - self.accidental_cents

    def transposed(self, *, semitones: int, steps: int) -> Pitch:
        """Return the pitch moved by whole semitones and by letter steps, cents kept."""
        position = self.staff_position + steps
        step, octave = STEPS[position % 7], position // 7
        natural = Pitch(step, octave).cents
        return Pitch(step, octave, self.cents + 100 * semitones - natural)

    def hz(self, a4_hz: float = 440.0) -> float:
        """Return the frequency in Hz: a4 · 2^((cents - 6900) / 1200), ISO 16 at A4 = 440."""
        return a4_hz * math.pow(2.0, float(self.cents - A4_CENTS) / CENTS_PER_OCTAVE)

    def __str__(self) -> str:
        """Return plain text that `parse_pitch` reads back: `F#4-12`."""
        return self._text(_PLAIN_SIGNS, 100, "")

    def quarter_tone_text(self) -> str:
        """Return plain text in quarter-tone spelling: `F4+31` as `Fqs4-19`."""
        return self._text(_QUARTER_SIGNS, 50, "")

    def printed(self) -> str:
        """Return the text for people: `F♯4 −12¢`."""
        return self._text(_PRINTED_SIGNS, 100, " ").replace("-", "−")

    def _text(self, signs: dict[int, str], grid_cents: int, gap: str) -> str:
        accidental = grid_cents * _nearest_whole(self.alteration_cents / grid_cents)
        accidental = max(-200, min(200, accidental))
        deviation = self.alteration_cents - accidental
        name = f"{self.step}{signs[accidental]}{self.octave}"
        if not deviation:
            return name
        return f"{name}{gap}{signed_cents_text(deviation)}{'¢' if gap else ''}"


def parse_pitch(text: str) -> Pitch:
    """Read scientific pitch notation with cents: `G5+31`, `Bb3`, `C♯6 −18¢`, `Fqs4`.

    Quarter tones are spelled `qs`, `qf`, `tqs`, `tqf` (three quarters) or with MusicXML's
    accidental names. Raises InputError with the column of the first character that does
    not fit.
    """
    match = _PITCH.fullmatch(text)
    if match is None:
        raise _unreadable(text)
    alteration = Fraction(_ACCIDENTAL_CENTS[match["accidental"] or ""])
    if match["cents"]:
        if match["sign"] == "±" and Fraction(match["cents"]):
            raise _unreadable(text)
        alteration += Fraction(match["cents"]) * (-1 if match["sign"] in "-−" else 1)
    return Pitch(match["step"].upper(), int(match["octave"]), alteration)


def pitch_from_hz(frequency_hz: float, a4_hz: float = 440.0) -> Pitch:
    """Return the sharp-spelled pitch nearest to a frequency in Hz, to a hundredth of a cent."""
    if not (math.isfinite(frequency_hz) and frequency_hz > 0 and a4_hz > 0):
        raise InputError("pitch.hz", f"{frequency_hz} Hz at A4 = {a4_hz} Hz is no pitch")
    cents = A4_CENTS + Fraction(round(120_000 * math.log2(frequency_hz / a4_hz)), 100)
    return pitch_from_cents(cents)


def pitch_from_cents(cents: Fraction) -> Pitch:
    """Return a pitch at this height (C4 = 6000), spelled with a natural or a sharp."""
    octave, chroma = divmod(cents, CENTS_PER_OCTAVE)
    semitone = _nearest_whole(chroma / 100)
    if semitone == 12:
        octave, semitone, chroma = octave + 1, 0, chroma - CENTS_PER_OCTAVE
    step = max((s for s in STEPS if NATURAL_CENTS[s] <= 100 * semitone), key=STEPS.index)
    return Pitch(step, int(octave) - 1, chroma - NATURAL_CENTS[step])


def cents_text(cents: Fraction) -> str:
    """Return cents as an exact decimal without trailing zeros, else as a fraction."""
    return decimal_text(cents)


def signed_cents_text(cents: Fraction) -> str:
    """Return cents with their sign: `+31`, `-18`, `0`."""
    return ("+" if cents > 0 else "") + cents_text(cents)


def _nearest_whole(amount: Fraction) -> int:
    """Round half towards zero, so that 50 cents stay a natural and 50."""
    whole = math.ceil(abs(amount) - Fraction(1, 2))
    return whole if amount >= 0 else -whole


def _unreadable(text: str) -> InputError:
    good = 0
    for end in range(len(text) + 1):
        if _is_beginning(text[:end]):
            good = end
    pointer = f"{text}\n  {' ' * good}^"
    return InputError(
        "pitch.text",
        f"{text!r} is no pitch; column {good + 1} does not fit:\n  {pointer}",
        hint="Write step, accidental, octave and cents: G5+31, Bb3, C#6-18, Fqs4.",
    )


_BEGINNING = re.compile(
    rf"\s*(?:[A-Ga-g]\s*(?:(?:{_ACCIDENTALS})\s*)?(?:-?(?:\d(?:\s*[+\-−±]?\s*[\d./]*"
    r"(?:¢|c|ct|ce|cen|cent|cents)?)?\s*)?)?)?"
)


def _is_beginning(text: str) -> bool:
    return _BEGINNING.fullmatch(text) is not None

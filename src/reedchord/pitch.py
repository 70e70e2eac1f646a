"""Exact pitches: step, octave and an alteration in cents that is a rational number."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from reedchord.errors import InputError, RequestError
from reedchord.numbers_as_text import decimal_text
from reedchord.pitch_names import QUARTER_TONE_SIGNS, note_name
from reedchord.reader import reader

STEPS = "CDEFGAB"
NATURAL_CENTS = {"C": 0, "D": 200, "E": 400, "F": 500, "G": 700, "A": 900, "B": 1100}
CENTS_PER_OCTAVE = 1200
A4_CENTS = 6900
"""A4 on the scale where middle C (C4) lies at 6000: a hundred times the MIDI note number."""
A4_HZ = 440.0
"""ISO 16."""
LOWEST_A4_HZ, HIGHEST_A4_HZ = 380.0, 480.0
"""Beyond these nobody tunes (common practice, no source): a slip of the keys is likelier."""

MAX_ALTERATION_CENTS = 450

_ACCIDENTAL_CENTS = {
    "": 0,
    "#": 100,
    "♯": 100,
    "sharp": 100,
    "##": 200,
    "x": 200,
    "double-sharp": 200,
    "sharp-sharp": 200,
    "♯♯": 200,
    "𝄪": 200,
    "b": -100,
    "♭": -100,
    "flat": -100,
    "bb": -200,
    "flat-flat": -200,
    "♭♭": -200,
    "𝄫": -200,
    "n": 0,
    "♮": 0,
    "natural": 0,
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
    **{sign: cents for cents, sign in QUARTER_TONE_SIGNS.items()},
}
_ACCIDENTALS = "|".join(
    re.escape(text) for text in sorted(_ACCIDENTAL_CENTS, key=len, reverse=True) if text
)
_BEGINNING = rf"""\s*(?:(?P<step>[A-Ga-g])
    \s*(?P<accidental>{_ACCIDENTALS})?
    \s*(?:(?P<octave>10|[\-−]?[0-9])
    \s*(?:(?P<sign>[+\-−±])
    \s*(?:(?P<cents>[0-9]{{1,40}}(?:\.[0-9]{{1,40}}|/[1-9][0-9]{{0,40}})?)
    \s*(?P<unit>¢|cents?|ct)?\s*)?)?)?)?"""
_EXPECTED_AFTER = {
    None: "a step from A to G",
    "step": "an accidental or an octave",
    "accidental": "an octave",
    "octave": "the end, or + or - and cents",
    "sign": "a number of cents",
    "cents": "the end",
    "unit": "the end",
}
_PLAIN_SIGNS = {-200: "bb", -100: "b", 0: "", 100: "#", 200: "##"}
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
        if type(self.alteration_cents) is not Fraction:
            object.__setattr__(self, "alteration_cents", Fraction(self.alteration_cents))
        if abs(self.alteration_cents) > MAX_ALTERATION_CENTS:
            raise InputError(
                "pitch.alteration",
                f"{self.step}{self.octave} altered by {cents_text(self.alteration_cents)} cents "
                "cannot be spelled",
                hint="Choose a nearer step.",
            )

    @property
    def natural_cents(self) -> int:
        """Height in cents without the alteration."""
        return NATURAL_CENTS[self.step] + CENTS_PER_OCTAVE * (self.octave + 1)

    @property
    def cents(self) -> Fraction:
        """Height in cents on the scale where C4 is 6000 and A4 is 6900."""
        return self.alteration_cents + self.natural_cents

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
        return _transposed(self, semitones, steps)

    def hz(self, a4_hz: float = A4_HZ) -> float:
        """Return the frequency in Hz: a4 · 2^((cents - 6900) / 1200), ISO 16 at A4 = 440."""
        return a4_hz * math.pow(2.0, float(self.cents - A4_CENTS) / CENTS_PER_OCTAVE)

    def __str__(self) -> str:
        """Return plain text that `parse_pitch` reads back: `F#4-12`."""
        return _text(self)

    def quarter_tone_text(self) -> str:
        """Return plain text in quarter-tone spelling: `F4+31` as `Fqs4-19`."""
        return self._plain(_QUARTER_SIGNS, 50)

    def printed(self) -> str:
        """Return the text for people, as the reader names pitches: `F♯4 −12¢`."""
        return self._printed(100)

    def printed_as_shown(self) -> str:
        """Return the same with quarter tones, as a score shows them: `F4+31` as `F½♯4 −19¢`."""
        return self._printed(50)

    def _plain(self, signs: dict[int, str], grid_cents: int) -> str:
        accidental, cents = self._divided(grid_cents)
        left_over = signed_cents_text(cents) if cents else ""
        return f"{self.step}{signs[accidental]}{self.octave}{left_over}"

    def _printed(self, grid_cents: int) -> str:
        accidental, cents = self._divided(grid_cents)
        name = f"{note_name(self.step, accidental, reader().pitch_names)}{self.octave}"
        return (f"{name} {signed_cents_text(cents)}¢" if cents else name).replace("-", "−")

    def _divided(self, grid_cents: int) -> tuple[int, Fraction]:
        """Return the accidental on a grid that is nearest, and the cents that are left over."""
        accidental = grid_cents * _nearest_whole(self.alteration_cents / grid_cents)
        accidental = max(-200, min(200, accidental))
        return accidental, self.alteration_cents - accidental


@lru_cache(maxsize=4096)
def _text(pitch: Pitch) -> str:
    """Write a pitch; remembered, because a score and its record name few, each many times."""
    return pitch._plain(_PLAIN_SIGNS, 100)


@lru_cache(maxsize=4096)
def _transposed(pitch: Pitch, semitones: int, steps: int) -> Pitch:
    """Move a pitch; remembered, because a sonority is asked for its pitches many times."""
    position = pitch.staff_position + steps
    step, octave = STEPS[position % 7], position // 7
    natural = Pitch(step, octave).cents
    return Pitch(step, octave, pitch.cents + 100 * semitones - natural)


class PitchTextError(InputError):
    """A text is no pitch: from `column`, counted from 0, on it does not fit.

    Where the text stands at `start` of a `whole` one, that is shown, and columns count there.
    """

    def __init__(
        self, text: str, column: int, expected: str, *, whole: str | None = None, start: int = 0
    ) -> None:
        self.text, self.column, self.expected = text, column, expected
        at = start + column
        shown = _printable((text if whole is None else whole)[: at + 40])
        super().__init__(
            "pitch.text",
            f"{_printable(text[: column + 40])!r} is no pitch: column {at + 1} should be "
            f"{expected}\n  {shown}\n  {' ' * at}^",
            hint="Write step, accidental, octave and cents: G5+31, Bb3, C#6-18, Fqs4.",
        )

    def within(self, whole: str, start: int) -> PitchTextError:
        """Return this error for a text that begins at `start` of a whole one."""
        return PitchTextError(self.text, self.column, self.expected, whole=whole, start=start)


def _printable(text: str) -> str:
    return "".join(character if character.isprintable() else " " for character in text)


def parse_pitch(text: str) -> Pitch:
    """Read scientific pitch notation with cents: `G5+31`, `Bb3`, `C♯6 −18¢`, `Fqs4`.

    Quarter tones are spelled `qs`, `qf`, `tqs`, `tqf` (three quarters); MusicXML's names of
    accidentals within two semitones are read too, so `E flat 4`. Octaves reach from -9 to 10.
    Raises InputError with the column of the first character that does not fit.
    """
    match = re.match(_BEGINNING, text, re.VERBOSE)
    if match is None or not match["octave"] or match.lastgroup == "sign" or match.end() < len(text):
        raise _unreadable(text, match)
    alteration = Fraction(_ACCIDENTAL_CENTS[match["accidental"] or ""])
    if match["cents"]:
        cents = Fraction(match["cents"])
        if match["sign"] == "±" and cents:
            raise PitchTextError(text, match.start("sign"), "+ or -, since ± tells no direction")
        alteration += -cents if match["sign"] in "-−" else cents
    return Pitch(match["step"].upper(), int(match["octave"].replace("−", "-")), alteration)


def pitch_from_hz(frequency_hz: float, a4_hz: float = A4_HZ) -> Pitch:
    """Return the sharp-spelled pitch nearest to a frequency in Hz, to a hundredth of a cent."""
    if not all(math.isfinite(hz) and hz > 0 for hz in (frequency_hz, a4_hz)):
        raise InputError("pitch.hz", f"{frequency_hz} Hz at A4 = {a4_hz} Hz is no pitch")
    octaves = math.log2(frequency_hz) - math.log2(a4_hz)
    cents = A4_CENTS + Fraction(round(100 * CENTS_PER_OCTAVE * octaves), 100)
    return pitch_from_cents(cents)


def checked_a4_hz(a4_hz: float) -> float:
    """Return a pitch of A4 in Hz as it was given; raises RequestError where nobody tunes so."""
    if not LOWEST_A4_HZ <= a4_hz <= HIGHEST_A4_HZ:
        raise RequestError(
            "pitch.a4",
            f"A4 at {a4_hz:g} Hz is no pitch to tune to",
            hint=f"Give {LOWEST_A4_HZ:g} to {HIGHEST_A4_HZ:g} Hz, usually 440 to 443.",
        )
    return a4_hz


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


def _unreadable(text: str, read: re.Match[str] | None) -> PitchTextError:
    last = read.lastgroup if read else None
    column = read.end() if read else 0
    if last == "step":
        column += _begun_accidental(text[column:])
    return PitchTextError(text, column, _EXPECTED_AFTER[last])


def _begun_accidental(text: str) -> int:
    """Return how many characters of `text` begin some accidental."""
    longest = max(map(len, _ACCIDENTAL_CENTS))
    beginnings = (text[:length] for length in range(longest + 1))
    return max(len(b) for b in beginnings if any(a.startswith(b) for a in _ACCIDENTAL_CENTS))

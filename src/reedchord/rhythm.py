"""Note values, dots and exact score time in quarter notes."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from reedchord.errors import InputError, did_you_mean
from reedchord.numbers_as_text import decimal_text

QUARTERS_BY_TYPE = {
    "maxima": Fraction(32),
    "long": Fraction(16),
    "breve": Fraction(8),
    "whole": Fraction(4),
    "half": Fraction(2),
    "quarter": Fraction(1),
    "eighth": Fraction(1, 2),
    "16th": Fraction(1, 4),
    "32nd": Fraction(1, 8),
    "64th": Fraction(1, 16),
    "128th": Fraction(1, 32),
    "256th": Fraction(1, 64),
    "512th": Fraction(1, 128),
    "1024th": Fraction(1, 256),
}
"""MusicXML 4.0, simple type note-type-value, longest first."""

BRITISH_NAMES = {
    "long": "longa",
    "breve": "breve",
    "whole": "semibreve",
    "half": "minim",
    "quarter": "crotchet",
    "eighth": "quaver",
    "16th": "semiquaver",
    "32nd": "demisemiquaver",
    "64th": "hemidemisemiquaver",
}
_TYPES_BY_NAME = (
    {name: name for name in QUARTERS_BY_TYPE}
    | {british: name for name, british in BRITISH_NAMES.items()}
    | {"sixteenth": "16th", "thirty-second": "32nd", "8th": "eighth"}
)
MAX_DOTS = 2


@dataclass(frozen=True)
class NoteValue:
    """A written note value: MusicXML's `type` name and the number of dots."""

    type: str
    dots: int = 0

    @property
    def quarters(self) -> Fraction:
        """Length in quarter notes; each dot adds half of what stands before it."""
        return QUARTERS_BY_TYPE[self.type] * (2 - Fraction(1, 2**self.dots))

    def __str__(self) -> str:
        return self.type + "." * self.dots

    def words(self, *, british: bool = False) -> str:
        """Return the value as it is spoken: `dotted quarter`, `dotted crotchet`."""
        name = BRITISH_NAMES.get(self.type, self.type) if british else self.type
        return ("", "dotted ", "double-dotted ")[self.dots] + name


@dataclass(frozen=True)
class Rate:
    """How fast a note value repeats: a value at a metronome mark, as the trade says it."""

    value: NoteValue
    beat: NoteValue
    beats_per_minute: Fraction

    @property
    def attacks_per_second(self) -> Fraction:
        """Attacks a second: beats a second times the values that fit into a beat."""
        return self.beats_per_minute / 60 * self.beat.quarters / self.value.quarters

    def __str__(self) -> str:
        return f"{self.value} at {self.beat} = {decimal_text(self.beats_per_minute)}"

    def words(self, *, british: bool = False) -> str:
        """Return the rate as it is spoken: `16ths at quarter = 72`."""
        value, beat = self.value.words(british=british), self.beat.words(british=british)
        return f"{value}s at {beat} = {decimal_text(self.beats_per_minute)}"


_RATE = re.compile(
    r"\s*(?P<value>[\w-]+\.*?)s?(?P<dots>\.*)\s+at\s+(?P<beat>[\w-]+\.*)\s*=\s*"
    r"(?P<bpm>\d+(?:\.\d+)?)\s*",
    re.IGNORECASE,
)


def parse_note_value(text: str) -> NoteValue:
    """Read `half`, `quarter.`, `quavers`, `16th`; raises InputError for anything else."""
    name = text.strip().casefold()
    bare = name.rstrip(".")
    dots = len(name) - len(bare)
    singular = bare if bare in _TYPES_BY_NAME else bare.removesuffix("s")
    if singular == "halve":
        singular = "half"
    if singular not in _TYPES_BY_NAME or dots > MAX_DOTS:
        raise InputError(
            "rhythm.value",
            f"{text!r} is no note value",
            hint=f"{did_you_mean(bare, _TYPES_BY_NAME)} Dots follow: quarter.",
        )
    return NoteValue(_TYPES_BY_NAME[singular], dots)


def parse_rate(text: str) -> Rate:
    """Read `16ths at quarter = 72` or `semiquavers at crotchet = 72`."""
    match = _RATE.fullmatch(text)
    if match is None:
        raise InputError(
            "rhythm.rate",
            f"{text!r} is no speed",
            hint="Write a note value at a metronome mark: 16ths at quarter = 72.",
        )
    beats_per_minute = Fraction(match["bpm"])
    if beats_per_minute <= 0:
        raise InputError("rhythm.rate", f"{text!r}: a metronome mark is above 0")
    value = parse_note_value(match["value"] + match["dots"])
    return Rate(value, parse_note_value(match["beat"]), beats_per_minute)


def parse_beat(text: str) -> Fraction:
    """Read a beat counted from 1: `3`, `2.5`, `2+1/3`, `7/3`; raises InputError below 1."""
    try:
        beat = sum((Fraction(term.strip()) for term in text.split("+")), Fraction(0))
    except (ValueError, ZeroDivisionError):
        beat = Fraction(0)
    if beat < 1:
        raise InputError(
            "rhythm.beat",
            f"{text!r} is no beat",
            hint="Beats count from 1: 3, 2.5 or 2+1/3.",
        )
    return beat


def beat_text(beat: Fraction) -> str:
    """Return a beat as `parse_beat` reads it: `3`, `2.5`, `2+1/3`."""
    whole, rest = divmod(beat, 1)
    if not rest:
        return str(whole)
    if rest.denominator in (2, 4, 8):
        return decimal_text(beat)
    return f"{whole}+{rest}"


def single_value(quarters: Fraction) -> NoteValue | None:
    """Return the one note value, dotted at most twice, of this length, if there is one."""
    for name in QUARTERS_BY_TYPE:
        for dots in range(MAX_DOTS + 1):
            value = NoteValue(name, dots)
            if value.quarters == quarters:
                return value
    return None


def spelled_values(quarters: Fraction) -> list[NoteValue] | None:
    """Return note values, longest first, that tied together last `quarters`.

    None when no sum of note values gives that length, as with a third of a quarter.
    """
    values: list[NoteValue] = []
    rest = quarters
    while rest:
        value = single_value(rest) or _longest_within(rest)
        if value is None:
            return None
        values.append(value)
        rest -= value.quarters
    return values


def _longest_within(quarters: Fraction) -> NoteValue | None:
    for name, length in QUARTERS_BY_TYPE.items():
        if length <= quarters:
            return NoteValue(name)
    return None

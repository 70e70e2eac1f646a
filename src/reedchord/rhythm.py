"""Note values, dots and exact score time in quarter notes."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import NamedTuple

from reedchord.errors import InputError, did_you_mean
from reedchord.numbers_as_text import decimal_text
from reedchord.reader import reader

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
"""Dots on the note values that we write; more are read."""

_DOTTED = ("", "dotted ", "double-dotted ", "triple-dotted ", "quadruple-dotted ")


@dataclass(frozen=True)
class NoteValue:
    """A written note value: MusicXML's `type` name and the number of dots."""

    type: str
    dots: int = 0

    def __post_init__(self) -> None:
        if self.type not in QUARTERS_BY_TYPE:
            hint = did_you_mean(self.type, QUARTERS_BY_TYPE)
            raise InputError("rhythm.value", f"{self.type!r} is no note value", hint=hint)
        if not 0 <= self.dots < len(_DOTTED):
            raise InputError("rhythm.value", f"no note value has {self.dots} dots")

    @property
    def quarters(self) -> Fraction:
        """Length in quarter notes; each dot adds half of what stands before it."""
        return QUARTERS_BY_TYPE[self.type] * (2 - Fraction(1, 2**self.dots))

    def __str__(self) -> str:
        return self.type + "." * self.dots

    def words(self, *, plural: bool = False) -> str:
        """Return the value as the reader says it: `dotted quarter`, `crotchets`, `halves`."""
        name = BRITISH_NAMES.get(self.type, self.type) if reader().british else self.type
        if plural:
            name = "halves" if name == "half" else f"{name}s"
        return _DOTTED[self.dots] + name


QUARTER = NoteValue("quarter")


def quarters_words(quarters: Fraction) -> str:
    """Return a length counted as the reader counts: `3 quarter notes`, `1.5 crotchets`."""
    name = BRITISH_NAMES["quarter"] if reader().british else "quarter note"
    return f"{decimal_text(quarters)} {name}{'' if quarters == 1 else 's'}"


class Rate(NamedTuple):
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

    def words(self) -> str:
        """Return the rate as the reader says it: `16ths at quarter = 72`."""
        values = self.value.words(plural=True)
        return f"{values} at {self.beat.words()} = {decimal_text(self.beats_per_minute)}"


_NUMBER = r"[0-9]{1,20}(?:\.[0-9]{1,20}|/[1-9][0-9]{0,20})?"
_RATE = rf"(?P<value>[\w. -]{{1,40}}?)\s+at\s+(?P<beat>[\w. -]{{1,40}}?)\s*=\s*(?P<bpm>{_NUMBER})"
_BEAT = rf"{_NUMBER}(?:\s*\+\s*{_NUMBER})*"


def parse_note_value(text: str) -> NoteValue:
    """Read `half`, `quarter.`, `dotted quavers`, `16th`; raises InputError for anything else."""
    spoken = " ".join(text.casefold().split()).replace(" dotted", "-dotted")
    dots = max(count for count, words in enumerate(_DOTTED) if spoken.startswith(words))
    name = spoken.removeprefix(_DOTTED[dots])
    bare = name.rstrip(".")
    singular = "half" if bare == "halves" else bare.removesuffix("s")
    if dots and bare != name:
        raise InputError(
            "rhythm.value",
            f"{text!r} tells its dots twice",
            hint="Write either dotted quarter or quarter followed by a dot.",
        )
    if singular not in _TYPES_BY_NAME:
        raise InputError(
            "rhythm.value",
            f"{text!r} is no note value",
            hint=f"{did_you_mean(bare, _TYPES_BY_NAME)} Dots follow: quarter.",
        )
    return NoteValue(_TYPES_BY_NAME[singular], dots or len(name) - len(bare))


def parse_rate(text: str) -> Rate:
    """Read `16ths at quarter = 72` or `semiquavers at crotchet = 72`."""
    match = re.fullmatch(_RATE, text.strip(), re.IGNORECASE)
    if match is None:
        raise InputError(
            "rhythm.rate",
            f"{text!r} is no speed",
            hint="Write a note value at a metronome mark: 16ths at quarter = 72.",
        )
    beats_per_minute = Fraction(match["bpm"])
    if beats_per_minute <= 0:
        raise InputError("rhythm.rate", f"{text!r}: a metronome mark is above 0")
    value, beat = parse_note_value(match["value"]), parse_note_value(match["beat"])
    return Rate(value, beat, beats_per_minute)


def parse_beat(text: str) -> Fraction:
    """Read a beat counted from 1: `3`, `2.5`, `2+1/3`, `7/3`; raises InputError below 1."""
    readable = re.fullmatch(_BEAT, text.strip()) is not None
    beat = sum(map(Fraction, text.split("+")), Fraction(0)) if readable else Fraction(0)
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


FINEST_EXACT, SIMPLEST = 32, 12
"""Denominators of a quarter: up to the first a moment is meant so; the second is for tuplets."""


def simple_moment(quarters: Fraction) -> Fraction:
    """Return a moment in quarters as people mean it, for print: 85/256 is a rounded third.

    Only a moment less than 1/64 from a fraction with a denominator of up to 12 is changed.
    """
    if quarters.denominator <= FINEST_EXACT:
        return quarters
    simple = quarters.limit_denominator(SIMPLEST)
    return simple if abs(simple - quarters) < Fraction(1, 64) else quarters


_SINGLE_VALUES = {
    value.quarters: value
    for value in (
        NoteValue(name, dots) for name in QUARTERS_BY_TYPE for dots in range(MAX_DOTS + 1)
    )
}


def single_value(quarters: Fraction) -> NoteValue | None:
    """Return the one note value, dotted at most twice, of this length, if there is one."""
    return _SINGLE_VALUES.get(quarters)


MAX_SPELLED_QUARTERS = 1024
"""What ties are written for; a damaged score may tell any length."""


def spelled_values(quarters: Fraction) -> list[NoteValue] | None:
    """Return note values, longest first, that tied together last `quarters`.

    None when taking the longest that fits never comes out even, as with a third of a quarter,
    and where it takes more than `MAX_SPELLED_QUARTERS`.
    """
    if quarters > MAX_SPELLED_QUARTERS:
        return None
    values: list[NoteValue] = []
    rest = quarters
    while rest:
        value = single_value(rest) or _longest_within(rest)
        if value is None:
            return None
        values.append(value)
        rest -= value.quarters
    return sorted(values, key=lambda value: value.quarters, reverse=True)


def balanced_values(quarters: Fraction) -> list[NoteValue] | None:
    """Return one value, or the most even two, dotted at most once, longer first.

    So a bar of 9/8 is a dotted half and a dotted quarter, one of 5/4 a dotted half and a
    half (common practice, no source). Other lengths are spelled as `spelled_values` does.
    """
    plain = [value for value in _SINGLE_VALUES.values() if value.dots <= 1]
    alone = single_value(quarters)
    if alone in plain:
        return [alone]
    pairs = [
        (longer, shorter)
        for longer in plain
        for shorter in plain
        if longer.quarters >= shorter.quarters and longer.quarters + shorter.quarters == quarters
    ]
    if not pairs:
        return spelled_values(quarters)
    longer, shorter = min(pairs, key=lambda pair: pair[0].quarters - pair[1].quarters)
    return [longer, shorter]


def _longest_within(quarters: Fraction) -> NoteValue | None:
    for name, length in QUARTERS_BY_TYPE.items():
        if length <= quarters:
            return NoteValue(name)
    return None

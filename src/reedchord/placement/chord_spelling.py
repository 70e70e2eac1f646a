"""Tones on the pitch grid of a score: spelling, accidentals and what the cents labels say."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from itertools import pairwise, product

from reedchord.numbers_as_text import decimal_text
from reedchord.pitch import STEPS, Pitch

MINUS = "−"


class Grid(StrEnum):
    """How fine the printed accidentals are; the cents label says what is left over."""

    QUARTER = "quarter"
    SEMITONE = "semitone"

    @property
    def cents(self) -> int:
        """Width of the grid in cents."""
        return 50 if self is Grid.QUARTER else 100


MAX_LEFT_OVER_CENTS = 50
"""A label says at most this much, also where the nearest grid point is taken."""
MAX_ALTERATION_CENTS = 100
"""Three-quarter tones and double accidentals are respelled: not every reader has them."""


@dataclass(frozen=True)
class SpelledTone:
    """A tone as the score shows it: a pitch on the grid, and the cents that are left over."""

    pitch: Pitch
    left_over_cents: Fraction

    @property
    def cents_label(self) -> str:
        """The whole cents left over, always signed: `+14`, `−19`, `0`."""
        cents = round(self.left_over_cents)
        if cents == 0:
            return "0"
        return f"{'+' if cents > 0 else MINUS}{decimal_text(Fraction(abs(cents)))}"


def spelled(pitches: Sequence[Pitch], grid: Grid) -> tuple[SpelledTone, ...]:
    """Spell ascending pitches so that they also ascend on the staff.

    Of all spellings that put no two tones on one line or space, the one is taken that
    leaves the fewest cents over, keeps most letters and has the plainest
    accidentals; where none exists, the plainest of all.
    """
    choices = [list(_spellings(pitch, grid)) for pitch in pitches]
    best = min(product(*choices), key=lambda chord: _cost(chord, pitches))
    return tuple(
        SpelledTone(shown, pitch.cents - shown.cents)
        for shown, pitch in zip(best, pitches, strict=True)
    )


def _spellings(pitch: Pitch, grid: Grid) -> Iterator[Pitch]:
    """Yield grid points near the pitch, on each letter that can carry them."""
    nearest = round(pitch.cents / grid.cents)
    for point in (nearest, nearest - 1, nearest + 1):
        cents = Fraction(grid.cents * point)
        if abs(pitch.cents - cents) > MAX_LEFT_OVER_CENTS:
            continue
        for position in range(pitch.staff_position - 2, pitch.staff_position + 3):
            natural = Pitch(STEPS[position % 7], position // 7)
            alteration = cents - natural.cents
            if abs(alteration) <= MAX_ALTERATION_CENTS:
                yield Pitch(natural.step, natural.octave, alteration)


def _cost(chord: Sequence[Pitch], wanted: Sequence[Pitch]) -> tuple[Fraction | int, ...]:
    steps = [b.staff_position - a.staff_position for a, b in pairwise(chord)]
    respelled = [
        abs(c.staff_position - w.staff_position) for c, w in zip(chord, wanted, strict=True)
    ]
    altered = sum(int(abs(pitch.alteration_cents)) for pitch in chord)
    rare = sum(_is_rare(pitch) for pitch in chord)
    left_over = sum(
        (abs(c.cents - w.cents) for c, w in zip(chord, wanted, strict=True)), Fraction(0)
    )
    return sum(step <= 0 for step in steps), left_over, sum(respelled), rare, altered


def _is_rare(pitch: Pitch) -> bool:
    """Whether a spelling is one that players stumble over: E sharp, C flat and their like."""
    cents = int(pitch.alteration_cents)
    return (pitch.step in "EB" and cents == 100) or (pitch.step in "FC" and cents == -100)

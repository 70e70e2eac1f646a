"""Tones on the pitch grid of a score: spelling, accidentals and what the cents labels say."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from enum import StrEnum
from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

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


class SpelledTone(NamedTuple):
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
    return _spelled(tuple(pitches), grid)


@lru_cache(maxsize=4096)
def _spelled(pitches: tuple[Pitch, ...], grid: Grid) -> tuple[SpelledTone, ...]:
    """Spell pitches; remembered, because a sonority occurs many times in a score."""
    # Costs add up tone by tone, so of all ways to one spelling the cheapest is enough.
    ways = [_Way()]
    for pitch in pitches:
        ways = [_cheapest(ways, shown).to(shown, pitch) for shown in _spellings(pitch, grid)]
    best = min(ways, key=lambda way: way.cost)
    return tuple(
        SpelledTone(shown, pitch.cents - shown.cents)
        for shown, pitch in zip(best.shown, pitches, strict=True)
    )


class _Way(NamedTuple):
    """A spelling of the lowest tones; `cost` counts what is worst first.

    Lines shared or crossed, cents left over, letters given up, rare spellings, altered cents.
    """

    shown: tuple[Pitch, ...] = ()
    cost: tuple[int, Fraction, int, int, int] = (0, Fraction(0), 0, 0, 0)

    def crossings(self, position: int) -> int:
        """Return the lines shared or crossed with one more tone at a staff position."""
        steps = position - self.shown[-1].staff_position if self.shown else 1
        return self.cost[0] + (steps <= 0) + (steps < 0)

    def to(self, shown: Pitch, wanted: Pitch) -> _Way:
        """Return the spelling with one more tone on top."""
        _, left_over, letters, rare, altered = self.cost
        cost = (
            self.crossings(shown.staff_position),
            left_over + abs(shown.cents - wanted.cents),
            letters + abs(shown.staff_position - wanted.staff_position),
            rare + _is_rare(shown),
            altered + int(abs(shown.alteration_cents)),
        )
        return _Way((*self.shown, shown), cost)


def _cheapest(ways: Sequence[_Way], shown: Pitch) -> _Way:
    """Return the way that is cheapest with one more tone on top: what it costs itself is equal."""
    position = shown.staff_position
    return min(ways, key=lambda way: (way.crossings(position), *way.cost[1:]))


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


def _is_rare(pitch: Pitch) -> bool:
    """Whether a spelling is one that players stumble over: E sharp, C flat and their like."""
    cents = int(pitch.alteration_cents)
    return (pitch.step in "EB" and cents == 100) or (pitch.step in "FC" and cents == -100)

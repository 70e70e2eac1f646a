"""How a length is spelled at its place in a bar, so that the beats stay to be seen.

All rules here are common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise

from reedchord.rhythm import QUARTERS_BY_TYPE, NoteValue, balanced_values, single_value

QUARTER = Fraction(1)
_EIGHTH = Fraction(1, 2)
_FINEST = min(QUARTERS_BY_TYPE.values())
_LONG_QUARTERS = 16
"""Beyond this, beats are not what one looks for, and too many ways to count."""
_DOTS = 1
"""Dots at most on one of several values; two are hard to read across beats."""


@dataclass(frozen=True)
class Metre:
    """The grid of a bar: lengths in quarter notes from the whole bar to its finest part.

    Each length is a whole multiple of the next. `pickup_quarters` is what the bar lacks at
    its start.
    """

    steps: tuple[Fraction, ...]
    pickup_quarters: Fraction = Fraction(0)

    def rank(self, quarters: Fraction) -> int:
        """Return how strong a moment of the bar is: 0 the strongest."""
        moment = quarters + self.pickup_quarters
        return next(
            (rank for rank, step in enumerate(self.steps) if moment % step == 0), len(self.steps)
        )

    def strongest_within(self, start: Fraction, end: Fraction) -> tuple[int, list[Fraction]]:
        """Return the rank and the places of the strongest moments between two moments."""
        for rank, step in enumerate(self.steps):
            first = ((start + self.pickup_quarters) // step + 1) * step - self.pickup_quarters
            if first < end:
                count = -((first - end) // step)
                return rank, [first + step * index for index in range(int(count))]
        return len(self.steps), []

    def is_halved(self, rank: int) -> bool:
        """Whether the lengths of a rank fall into two of the next."""
        return rank + 1 < len(self.steps) and self.steps[rank] == 2 * self.steps[rank + 1]


def metre(
    beats: Fraction | None,
    beat_quarters: Fraction,
    *,
    bar_quarters: Fraction | None = None,
) -> Metre:
    """Return the grid of a metre; without `beats` only the beats themselves are known.

    Twos and fours of beats are halved, threes of eighths or shorter make dotted beats.
    `bar_quarters` is the length of a pickup bar.
    """
    steps = [beats * beat_quarters] if beats else []
    pickup = steps[0] - bar_quarters if steps and bar_quarters else Fraction(0)
    if beats is not None and beats > 3 and beats % 3 == 0 and beat_quarters <= _EIGHTH:
        steps += [6 * beat_quarters] if beats == 12 else []
        steps += [3 * beat_quarters]
    elif beats == 4:
        steps += [2 * beat_quarters]
    step = beat_quarters
    while step >= _FINEST:
        steps += [step] if not steps or steps[-1] > step else []
        step /= 2
    return Metre(tuple(steps), max(pickup, Fraction(0)))


def chord_values(grid: Metre, start: Fraction, end: Fraction) -> tuple[NoteValue, ...] | None:
    """Return note values that tied together fill a stretch of a bar, or None where none do."""
    return _values(grid, start, end, is_rest=False)


def rest_values(grid: Metre, start: Fraction, end: Fraction) -> tuple[NoteValue, ...] | None:
    """Return the values of rests that fill a stretch of a bar, or None where none do."""
    return _values(grid, start, end, is_rest=True)


@lru_cache(maxsize=4096)
def _values(
    grid: Metre, start: Fraction, end: Fraction, *, is_rest: bool
) -> tuple[NoteValue, ...] | None:
    if end - start > _LONG_QUARTERS:
        values = balanced_values(end - start)
        return None if values is None else tuple(values)
    value = single_value(end - start)
    shows = _rest_shows_beats if is_rest else _chord_shows_beats
    if value is not None and value.dots <= _DOTS and shows(grid, start, end):
        return (value,)
    rank, places = grid.strongest_within(start, end)
    if not places:
        return None
    cuts = [start, *places, end]
    if is_rest:
        found = [_values(grid, *cut, is_rest=True) for cut in _joined(grid, cuts, rank)]
    else:
        ways = [_two(grid, start, place, end) for place in places]
        possible = [way for way in ways if way is not None]
        found = [min(possible, key=_how_plain, default=None)]
    if any(part is None for part in found):
        return None
    return tuple(value for part in found if part is not None for value in part)


def _two(
    grid: Metre, start: Fraction, cut: Fraction, end: Fraction
) -> tuple[NoteValue, ...] | None:
    before = _values(grid, start, cut, is_rest=False)
    after = _values(grid, cut, end, is_rest=False)
    return None if before is None or after is None else before + after


def _how_plain(values: tuple[NoteValue, ...]) -> tuple[int, Fraction, Fraction]:
    """Return what is least for few values, then even ones, then a longer one first."""
    lengths = [value.quarters for value in values]
    return len(values), max(lengths) - min(lengths), -lengths[0]


def _joined(grid: Metre, cuts: list[Fraction], rank: int) -> list[tuple[Fraction, Fraction]]:
    """Return stretches between cuts, the first two of a dotted beat as one where both are whole.

    So two eighths of rest on a dotted beat are a quarter rest.
    """
    pairs = list(pairwise(cuts))
    is_third = rank > 0 and grid.steps[rank - 1] == 3 * grid.steps[rank]
    whole = all(b - a == grid.steps[rank] for a, b in pairs[:2])
    if is_third and len(pairs) == 2 and whole and grid.rank(cuts[0]) < rank:
        return [(cuts[0], cuts[-1])] if grid.steps[rank] < QUARTER else pairs
    return pairs


def _rest_shows_beats(grid: Metre, start: Fraction, end: Fraction) -> bool:
    """Whether a rest fills one length of the grid, or the first two thirds of a dotted beat."""
    length = end - start
    for rank, step in enumerate(grid.steps):
        if length == step:
            return grid.rank(start) <= rank
        is_two_thirds = rank + 1 < len(grid.steps) and step == 3 * grid.steps[rank + 1]
        if is_two_thirds and 3 * length == 2 * step and step < 3 * QUARTER:
            return grid.rank(start) <= rank
    return False


def _chord_shows_beats(grid: Metre, start: Fraction, end: Fraction) -> bool:
    """Whether a chord leads over no moment stronger than its start, or is a plain syncope.

    Its end lies on the grid of that moment, or of the next finer where that halves it.
    """
    rank, places = grid.strongest_within(start, end)
    if not places:
        return True
    first, last = grid.rank(start), grid.rank(end)
    if first <= rank:
        return last <= rank + int(grid.is_halved(rank))
    length = end - start
    return (
        len(places) == 1
        and grid.is_halved(rank)
        and first == last == rank + 1
        and length == 2 * grid.steps[rank + 1]
    )

"""How a length is spelled at its place in a bar, so that the beats stay to be seen.

All rules here are common practice, no source.
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

from reedchord.rhythm import QUARTERS_BY_TYPE, NoteValue, balanced_values, single_value

QUARTER = Fraction(1)
_EIGHTH = Fraction(1, 2)
_FINEST = min(QUARTERS_BY_TYPE.values())
_MANY_BEATS = 16
"""Beyond this, beats are not what one looks for, and the ways are too many to try."""
_DOTS = 1
"""Dots at most on one of several values; two are hard to read across beats."""


class Metre(NamedTuple):
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
    value = _single(grid, start, end, is_rest=is_rest)
    if value is not None:
        return (value,)
    rank, places = grid.strongest_within(start, end)
    if not places:
        return None
    if len(places) > _MANY_BEATS:
        values = balanced_values(end - start)
        return None if values is None else tuple(values)
    cuts = [start, *places, end]
    if is_rest:
        found = [_values(grid, *cut, is_rest=True) for cut in _joined(grid, cuts, rank)]
    else:
        cut = _best_cut(grid, start, places, end)
        found = [_values(grid, *half, is_rest=False) for half in ((start, cut), (cut, end))]
    if any(part is None for part in found):
        return None
    return tuple(value for part in found if part is not None for value in part)


def _single(grid: Metre, start: Fraction, end: Fraction, *, is_rest: bool) -> NoteValue | None:
    value = single_value(end - start)
    shows = _rest_shows_beats if is_rest else _chord_shows_beats
    fits = value is not None and value.dots <= _DOTS and shows(grid, start, end)
    return value if fits else None


def _best_cut(grid: Metre, start: Fraction, places: list[Fraction], end: Fraction) -> Fraction:
    """Return where to cut: into two even values, longer first; else after the longest value."""
    first = [place for place in places if _single(grid, start, place, is_rest=False)]
    both = [place for place in first if _single(grid, place, end, is_rest=False)]
    if both:
        return min(both, key=lambda place: (abs(end - 2 * place + start), -place))
    return first[-1] if first else places[0]


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
    """Whether a chord leads over no moment stronger than its start or end, or is a plain syncope.

    Its other end lies on the grid of that moment, or of the next finer where that halves it.
    """
    rank, places = grid.strongest_within(start, end)
    if not places:
        return True
    first, last = grid.rank(start), grid.rank(end)
    finest = rank + int(grid.is_halved(rank))
    if first <= rank or last < rank:
        return max(first, last) <= finest
    length = end - start
    return (
        len(places) == 1
        and grid.is_halved(rank)
        and first == last == rank + 1
        and length == 2 * grid.steps[rank + 1]
    )

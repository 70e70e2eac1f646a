"""What a wish costs with many sonorities at once: the same figures as `judging.judge`."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations
from typing import Any

import numpy as np
from numpy.typing import NDArray

from reedchord.choosing.array_filters import FAR, Looked, away, from_outer, units
from reedchord.choosing.array_meetings import Meetings, meetings
from reedchord.choosing.judging import COST_OF_OTHER_EMPHASIS, judge
from reedchord.choosing.search_conditions import COST_OF_UNKNOWN, Search
from reedchord.choosing.search_wish import Wish
from reedchord.choosing.sorted_heights import Heights, Mask, Rows
from reedchord.choosing.tone_table import (
    NO_TONE,
    OCTAVE,
    UNITS_PER_CENT,
    UNKNOWN,
    HeardTones,
    ToneTable,
)

Counts = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class Scores:
    """For each of some rows of a table: broken wishes, missing pitches, and what ranks it."""

    rows: Rows
    ruled_out: Counts
    missing: Counts
    far: Counts
    gaps: NDArray[np.float64]
    cost: NDArray[np.float64]


_COUNTS, _CENTS = np.empty(0, np.int64), np.empty(0, np.float64)
_NONE = Scores(np.empty(0, np.intp), _COUNTS, _COUNTS, _COUNTS, _CENTS, _CENTS)


def together(parts: Iterable[Scores]) -> Scores:
    """Return the scores of all rows of several, of which there is at least one."""
    parts = [part for part in parts if len(part.rows)] or [_NONE]
    if len(parts) == 1:
        return parts[0]
    return Scores(*map(np.concatenate, zip(*map(_columns_of, parts), strict=True)))


def _columns_of(made: Scores) -> tuple[NDArray[Any], ...]:
    return made.rows, made.ruled_out, made.missing, made.far, made.gaps, made.cost


def scores(
    table: ToneTable, search: Search, looked: Looked, rows: Rows, *, nearest: bool = False
) -> Scores:
    """Hold some rows of a table against a wish; `far` and `gaps` are told for the `nearest`."""
    if not len(rows):
        return _NONE
    wish = search.wish
    ruled_out = looked.broken[rows].astype(np.int64)
    cost = _cost_of_others(table, wish, looked, rows)
    missing, far, gaps = np.zeros((3, len(rows)), np.int64)
    unsure = table.off_grid[rows]
    if wish.wanted:
        found = meetings(table, wish, rows)
        missing = found.missing_count.astype(np.int64)
        cost += found.cost
        if nearest:
            far, gaps = _look_around(wish, found)
        unsure |= found.unsure
        if wish.emphasised is not None:
            lost, other = _emphasis(table, wish, found, rows)
            ruled_out += lost
            cost += other * np.int64(COST_OF_OTHER_EMPHASIS * UNITS_PER_CENT)
    made = Scores(rows, ruled_out, missing, far, gaps / UNITS_PER_CENT, cost / UNITS_PER_CENT)
    for index in np.flatnonzero(unsure):
        _judge_alone(table, search, made, int(index))
    return made


def _judge_alone(table: ToneTable, search: Search, made: Scores, index: int) -> None:
    one = judge(search, table.records[made.rows[index]])
    made.ruled_out[index] = len(one.ruled_out)
    made.missing[index] = len(one.missing)
    made.far[index], made.gaps[index] = one.gaps
    made.cost[index] = one.cost


def _emphasis(table: ToneTable, wish: Wish, found: Meetings, rows: Rows) -> tuple[Mask, Mask]:
    """Return where the pitch to bring out loses its tone, and where another is brought out."""
    index = wish.emphasised_index
    place = len(wish.wanted) - 1 if index is None else index
    missing = found.missing[place]
    other = found.taken[place] + 1 != table.emphasised[rows]
    return missing & found.near[place], other & ~missing


def _look_around(wish: Wish, found: Meetings) -> tuple[Counts, Counts]:
    """Measure from each missing pitch to the nearest tone that meets no other.

    Returns how many have none, and the units to those that have one, added up.
    """
    far, gaps = np.zeros((2, found.heights.shape[1]), np.int64)
    free = found.free
    alone = ~free.any(axis=0)
    for pitch, missing in zip(wish.wanted, found.missing, strict=True):
        gap = away(found.heights, units(pitch.cents), by_class=wish.pitch_class)
        nearest = np.where(free, gap, FAR).min(axis=0)
        far += missing & alone
        gaps += np.where(missing & ~alone, nearest, 0)
    return far, gaps


def _cost_of_others(table: ToneTable, wish: Wish, looked: Looked, rows: Rows) -> Counts:
    """Return what all wishes cost but those for pitches, in units."""
    cost = np.zeros(len(rows), np.int64)
    unknown = COST_OF_UNKNOWN * UNITS_PER_CENT
    heard = table.heard(wish.dynamic, written=wish.written)
    if wish.dynamic is not None:
        cost += (table.dynamics[0][rows] == UNKNOWN) * np.int64(unknown)
    if wish.asks_for_speed:
        ranks = table.speeds(wish.articulation, wish.dynamic).ranks[rows]
        cost += (ranks == UNKNOWN) * np.int64(unknown)
    for pitch, heights in zip((wish.lowest, wish.highest), heard.outer, strict=True):
        if pitch is not None:
            gap = from_outer(heights[rows], pitch, wish)
            cost += _in_whole_cents(np.where(heard.count[rows] > 0, gap, 0))
    for semitones, nearest in zip(wish.intervals, looked.widths, strict=True):
        cost += _in_whole_cents(_from_width(heard, wish, semitones, nearest, rows))
    if looked.connecting is not None:
        cost += looked.connecting[rows].astype(np.int64) * UNITS_PER_CENT
    return cost


def _in_whole_cents(gap: Heights) -> Counts:
    """Return units rounded to cents as `round` does it, still in units."""
    return np.rint(gap / UNITS_PER_CENT).astype(np.int64) * UNITS_PER_CENT


def _from_width(
    heard: HeardTones, wish: Wish, semitones: Fraction, nearest: Heights, rows: Rows
) -> Heights:
    """Return how far the nearest two tones are from an interval, 0 where there are no two."""
    gaps = nearest[rows]
    beyond = np.flatnonzero(gaps == FAR)
    if not len(beyond):
        return gaps
    heights = heard.heights.take(rows[beyond], axis=1)
    there, least = heights != NO_TONE, np.full(len(beyond), FAR, np.int32)
    for low, high in combinations(range(len(heights)), 2):
        width = np.abs(heights[high] - heights[low])
        placed = width % OCTAVE if wish.pitch_class else width
        gap = away(placed, units(100 * semitones), by_class=wish.pitch_class)
        least = np.where(there[low] & there[high] & (gap < least), gap, least)
    gaps[beyond] = np.where(least == FAR, 0, least)
    return gaps

"""The best of very many sonorities: rows that cannot be among them are left out early.

Heights are whole numbers, so nothing is rounded and the ranks are those of `search.find` one
by one; what arrays cannot decide is judged alone.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise
from math import inf
from typing import Any

import numpy as np
from numpy.typing import NDArray

from reedchord.choosing.array_filters import BLOCK, Looked, away, look, near_tones, units
from reedchord.choosing.array_scores import Scores, scores, together
from reedchord.choosing.judging import COST_OF_MISSING, COST_OF_OTHER_EMPHASIS, COST_OF_SURPLUS
from reedchord.choosing.search_conditions import Search
from reedchord.choosing.search_wish import Wish, deviation_cents
from reedchord.choosing.sorted_heights import Rows
from reedchord.choosing.tone_table import UNITS_PER_CENT, ToneTable, whole_units

FEW, GROWTH = 64, 16
"""How many rows are scored first where none fits, and how many times as many then."""

SOME = 512
"""So many are sorted first, to leave out most of very many."""


@dataclass(frozen=True)
class BestRows:
    """The rows that fit best, and where none fits the nearest; counts of the whole table."""

    fitting: list[int]
    ruled_out: list[int]
    fitting_count: int
    complete: int


def is_on_grid(wish: Wish) -> bool:
    """Tell whether arrays can hold what is wished: no cents between the units."""
    pitches = [*wish.wanted, *wish.avoid, *filter(None, (wish.lowest, wish.highest))]
    cents = [pitch.cents for pitch in pitches] + [100 * wide for wide in wish.intervals]
    cents += [wish.within_cents, wish.avoid_within_cents]
    return all(whole_units(one) is not None for one in cents)


def best_rows(table: ToneTable, search: Search, most: int) -> BestRows:
    """Return at most so many rows of those that fit, best first, or else the nearest."""
    looked = look(table, search)
    best = _best_fitting(table, search, looked, most)
    return best or BestRows([], _nearest(table, search, looked, most), 0, 0)


def _best_fitting(table: ToneTable, search: Search, looked: Looked, most: int) -> BestRows | None:
    """Return the best rows of those that fit, None where none does.

    Only so many are scored as must be; of the others it is known that they fit, and whether
    they meet all wished pitches. Those that are judged alone do not count for that: they come
    in no order.
    """
    wish, contend = search.wish, _may_contend(search.wish)
    breaks_none = looked.broken == 0
    breaks_none[table.alone] = False
    rows = np.flatnonzero(breaks_none)
    alone = scores(table, search, looked, table.alone)
    parts: list[Scores] = []
    for group, bound in _in_groups(table, wish, looked, rows, contend=contend):
        parts.append(scores(table, search, looked, group))
        if _how_many_below(bound, parts) >= most and not (contend and wish.emphasised):
            break
    found = together([alone, *parts])
    fits = np.flatnonzero(found.ruled_out == 0)
    count = len(rows) + len(alone.rows) - (len(found.rows) - len(fits))
    if not count:
        return None
    best = first_places((found.cost[fits], found.rows[fits]), most)
    if contend:
        complete = int(np.count_nonzero(found.missing[fits] == 0))
    else:
        complete = int(np.count_nonzero((alone.ruled_out == 0) & (alone.missing == 0)))
        complete += int(np.count_nonzero(looked.near[rows] == len(wish.wanted)))
    return BestRows(found.rows[fits[best]].tolist(), [], count, complete)


def _in_groups(
    table: ToneTable, wish: Wish, looked: Looked, rows: Rows, *, contend: bool
) -> Iterator[tuple[Rows, float]]:
    """Yield rows in groups, likely ones first, and what decides whether the others matter.

    If enough of all that came cost less than that, none of the others can be among the best.
    All that may meet every wished pitch come at once where pitches contend.
    """
    if not wish.wanted:
        # All costs are whole cents: whoever costs less than one costs nothing, and of those
        # the first ids are the best, which is the order of the rows.
        ends = [BLOCK // 8, *range(BLOCK, len(rows) + BLOCK, BLOCK)]
        yield from ((rows[begin:end], 1) for begin, end in pairwise([0, *ends]))
        return
    lacking = len(wish.wanted) - looked.near.take(rows)
    if contend:
        whole = np.flatnonzero(lacking == 0)
        near = near_tones(table, wish, rows.take(whole))
        lacking[whole] = np.maximum(0, len(wish.wanted) - near)
    missing_cost = float(wish.within_cents + COST_OF_MISSING)
    for lack in range(len(wish.wanted) + 1):
        # Whoever has a tone near to all wished pitches but n, or n tones too few that are near
        # to any, lacks n of them at least.
        group = rows.take(np.flatnonzero(lacking == lack))
        at_once = contend and not lack
        parts = [(group, inf)] if at_once else _least_first(table, wish, group)
        for few, bound in parts:
            yield few, min(lack * missing_cost + bound, (lack + 1) * missing_cost)


def _least_surplus(table: ToneTable, wish: Wish, rows: Rows) -> NDArray[np.int32]:
    """Return at least what it costs, in units, that there are tones which nobody wished for."""
    # Each pitch that is met takes one tone from those.
    surplus = table.heard(wish.dynamic, written=wish.written).surplus.take(rows)
    least = surplus - np.int32(len(wish.wanted) * max(COST_OF_SURPLUS.values()) * UNITS_PER_CENT)
    if wish.emphasised is not None:
        other = table.emphasised.take(rows) == 0
        least += other * np.int32(COST_OF_OTHER_EMPHASIS * UNITS_PER_CENT)
    return least


def _least_first(table: ToneTable, wish: Wish, rows: Rows) -> Iterator[tuple[Rows, float]]:
    """Yield rows in growing groups by their least cost, with that of all others in cents."""
    size, least = BLOCK // 8, _least_surplus(table, wish, rows)
    while len(rows) > 2 * size:
        middle = np.partition(least, size)[size]
        chosen, others = np.flatnonzero(least < middle), np.flatnonzero(least >= middle)
        yield rows.take(chosen), max(int(middle), 0) / UNITS_PER_CENT
        rows, least, size = rows.take(others), least.take(others), 4 * size
    yield rows, inf


def _how_many_below(bound: float, parts: list[Scores]) -> int:
    below = ((part.ruled_out == 0) & (part.cost < bound) for part in parts)
    return sum(map(np.count_nonzero, below))


def _may_contend(wish: Wish) -> bool:
    """Tell whether some tone can lie near to two wished pitches."""
    return any(
        abs(deviation_cents(one.cents, other.cents, pitch_class=wish.pitch_class))
        <= 2 * wish.within_cents
        for one, other in combinations(wish.wanted, 2)
    )


def _nearest(table: ToneTable, search: Search, looked: Looked, most: int) -> list[int]:
    """Return the rows that break the fewest wishes, then have the fewest cents to go.

    Only those are scored that come first by what is known without: no row breaks fewer wishes
    than that, or has fewer cents to go.
    """
    count = max(FEW, most)
    while True:
        rows, bound = _likely_nearest(table, search.wish, looked, count)
        found = scores(table, search, looked, rows, nearest=True)
        keys = (found.ruled_out, found.far, found.gaps, found.cost, table.places[rows])
        best = first_places(keys, most)
        last = tuple(float(key[best[-1]]) for key in keys[:3])
        if len(rows) == len(table.records) or (len(best) == most and last < bound):
            nearest: list[int] = rows[best].tolist()
            return nearest
        count *= GROWTH


def _likely_nearest(
    table: ToneTable, wish: Wish, looked: Looked, count: int
) -> tuple[Rows, tuple[float, ...]]:
    """Return so many rows, or all, and what `_nearest` ranks by of any other row at least."""
    if count >= len(table.records):
        return np.arange(len(table.records)), ()
    most_broken = np.partition(looked.broken, count - 1)[count - 1]
    rows = np.flatnonzero(looked.broken <= most_broken)
    gaps = np.concatenate(
        [_least_gaps(table, wish, rows[at : at + BLOCK]) for at in range(0, len(rows), BLOCK)]
    )
    first = first_places((looked.broken[rows], gaps), count)
    return np.sort(rows[first]), (float(most_broken), 0.0, gaps[first[-1]] / UNITS_PER_CENT)


def _least_gaps(table: ToneTable, wish: Wish, rows: Rows) -> NDArray[np.int64]:
    """Return at least how far it is, in units, to pitches that have no tone near."""
    heard = table.heard(wish.dynamic, written=wish.written)
    heights = (heard.classes if wish.pitch_class else heard.heights).take(rows, axis=1)
    total = np.zeros(len(rows), np.int64)
    for pitch in wish.wanted:
        gap = away(heights, units(pitch.cents), by_class=wish.pitch_class).min(axis=0)
        total += np.where(gap > units(wish.within_cents), gap, 0)
    total[table.off_grid.take(rows)] = 0
    return total


def first_places(keys: Sequence[NDArray[Any]], most: int) -> Rows:
    """Return the places of the first by some keys, the earlier key first; equal ones stay in order.

    Sorts only what comes first.
    """
    sure: list[Rows] = []
    tied, left = np.arange(len(keys[0])), most
    for key in keys:
        if len(tied) <= left:
            break
        values = key.take(tied)
        # As many of some are not above the last of those: whatever is above comes later.
        some = np.partition(values[: left + SOME], left - 1)
        low = np.flatnonzero(values <= some[left - 1])
        tied, values = tied.take(low), values.take(low)
        last = np.partition(values, left - 1)[left - 1]
        sure.append(tied[values < last])
        tied, left = tied[values == last], left - len(sure[-1])
    places = np.sort(np.concatenate([*sure, tied[:left]]))
    order = np.lexsort([key.take(places) for key in reversed(keys)])
    first: Rows = places[order]
    return first

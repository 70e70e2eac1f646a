"""The best of very many sonorities: rows that cannot be among them are left out early.

Heights are whole numbers, so nothing is rounded and the ranks are those of `search.find` one
by one; what arrays cannot decide is judged alone.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from reedchord.choosing.array_scores import (
    Mask,
    Rows,
    Scores,
    away,
    breaks_columns,
    scores,
    units,
)
from reedchord.choosing.judging import COST_OF_MISSING
from reedchord.choosing.search_conditions import Search
from reedchord.choosing.search_wish import Wish
from reedchord.choosing.tone_table import ToneTable, family_place, whole_units
from reedchord.pitch import Pitch


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
    rows, met = _possible_rows(table, search)
    if _wishes_only_pitches(search.wish):
        best = _from_the_top(table, search, rows, met, most)
        if best is not None:
            return best
    found = scores(table, search, rows, nearest=False)
    fits = np.flatnonzero(found.ruled_out == 0)
    if len(fits):
        complete = int((found.missing[fits] == 0).sum())
        return BestRows(_best(table, found, fits, most), [], len(fits), complete)
    every = scores(table, search, np.arange(len(table.records)), nearest=True)
    order = np.lexsort((every.cost, every.gaps, every.far, every.ruled_out))
    return BestRows([], every.rows[order[:most]].tolist(), 0, 0)


def _wishes_only_pitches(wish: Wish) -> bool:
    """Tell whether a possible row on the grid is sure to fit."""
    others = (wish.emphasised, wish.tone_count, wish.lowest, wish.highest, wish.connects_to)
    return bool(wish.pitches) and others == (None,) * 5 and not (wish.intervals or wish.avoid)


def _from_the_top(
    table: ToneTable, search: Search, rows: Rows, met: NDArray[np.int8], most: int
) -> BestRows | None:
    """Look only at rows near to the most wishes, None where that does not settle the best.

    A row that is near to all wishes but n costs at least n missing pitches, so that it cannot
    be better than enough others that cost less.
    """
    wish = search.wish
    wanted = len(wish.wanted)
    near = np.where(table.off_grid[rows], wanted, met[rows])
    for lacking in range(wanted):
        found = scores(table, search, rows[near >= wanted - lacking], nearest=False)
        fits = np.flatnonzero(found.ruled_out == 0)
        bound = (lacking + 1) * float(wish.within_cents + COST_OF_MISSING)
        if np.count_nonzero(found.cost[fits] < bound) >= most:
            count = len(rows) - (len(found.rows) - len(fits))
            complete = int((found.missing[fits] == 0).sum())
            return BestRows(_best(table, found, fits, most), [], count, complete)
    return None


def _best(table: ToneTable, found: Scores, fits: Rows, most: int) -> list[int]:
    cost = found.cost[fits]
    if len(fits) > most:
        worst = np.partition(cost, most - 1)[most - 1]
        fits, cost = fits[cost <= worst], cost[cost <= worst]
    rows = found.rows[fits]
    order = np.lexsort((table.id_ranks[rows], cost))
    best: list[int] = rows[order[:most]].tolist()
    return best


def _possible_rows(table: ToneTable, search: Search) -> tuple[Rows, NDArray[np.int8]]:
    """Return the rows that no cheap look rules out, and those that arrays cannot judge.

    Beside them, for each row of the table, to how many wished pitches it has a tone near.
    """
    wish = search.wish
    masks = [~broken for broken in breaks_columns(table, wish)]
    met = np.zeros(len(table.records), np.int8)
    for pitch in wish.wanted:
        met += _has_near(table, wish, pitch)
    if wish.pitches:
        masks.append(met > 0)
    if wish.emphasised is not None:
        masks.append(_has_near(table, wish, wish.emphasised))
    if search.home is not None:
        masks.append(table.saxophones == family_place(search.home.saxophone))
    if not masks:
        return np.arange(len(table.records)), met
    return np.flatnonzero(np.logical_and.reduce(masks) | table.off_grid), met


def _has_near(table: ToneTable, wish: Wish, pitch: Pitch) -> Mask:
    """Tell which rows have a tone within the tolerance."""
    heard = table.heard(wish.dynamic, written=wish.written)
    within, height = units(wish.within_cents), units(pitch.cents)
    if wish.pitch_class:
        near = away(heard.classes, height, pitch_class=True) <= within
    else:
        # One unsigned comparison tells both sides.
        above = heard.heights - np.int32(height - within)
        near = above.view(np.uint32) <= np.uint32(2 * within)
    some: Mask = np.logical_or.reduce(near, axis=0)
    return some

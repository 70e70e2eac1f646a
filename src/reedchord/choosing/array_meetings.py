"""Which tone meets which wished pitch in many sonorities at once: as `judging` gives them."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from reedchord.choosing.array_assignment import NEVER, best_assignments
from reedchord.choosing.array_filters import FAR, away, units
from reedchord.choosing.judging import COST_OF_MISSING, COST_OF_PRESENCE
from reedchord.choosing.search_wish import Wish
from reedchord.choosing.sorted_heights import Heights, Mask, Rows
from reedchord.choosing.tone_table import (
    NO_TONE,
    PRESENCES,
    SILENT,
    SURPLUS,
    UNITS_PER_CENT,
    Codes,
    ToneTable,
)

_MEETING = np.array([COST_OF_PRESENCE[p] * UNITS_PER_CENT for p in PRESENCES] + [0], np.int32)
_NUMBER_BITS = 4
"""Below the cost of a meeting stands the number of its tone: the least is the cheapest, and of
tones that cost the same the first. Both fit into 32 bits: costs go to 625 cents."""


@dataclass(frozen=True, eq=False)
class Meetings:
    """For each of some rows, which tone each wished pitch takes, and what all of it costs."""

    heights: Heights
    """Tones that are heard, by row of tone number; within the octave for pitch classes."""
    taken: Codes
    """For each wish the number of its tone, 0 the lowest; after the last, it is missing."""
    near: Mask
    """For each wish, whether any tone is near."""
    cost: NDArray[np.int64]
    """Tones that meet a pitch, pitches that are missing, and tones in addition, in units."""
    unsure: Mask
    """Rows that only judging alone decides."""

    @property
    def missing(self) -> Mask:
        """For each wish, whether it goes without a tone."""
        missing: Mask = self.taken == len(self.heights)
        return missing

    @property
    def free(self) -> Mask:
        """Which of the tones that are heard meet no pitch."""
        free: Mask = self.heights != NO_TONE
        for taken, missing in zip(self.taken, self.missing, strict=True):
            columns = np.flatnonzero(~missing)
            free[taken[columns], columns] = False
        return free


def meetings(table: ToneTable, wish: Wish, rows: Rows) -> Meetings:
    """Let each wished pitch take the tone that is cheapest for it.

    Where two want the same tone, all of the row is assigned anew.
    """
    heard = table.heard(wish.dynamic, written=wish.written)
    heights = (heard.classes if wish.pitch_class else heard.heights).take(rows, axis=1)
    presence = heard.presence.take(rows, axis=1)
    missing_cost = units(wish.within_cents) + COST_OF_MISSING * UNITS_PER_CENT
    costs = _costs(wish, heights, presence)
    least = np.stack([one.min(axis=0) for one in costs])
    near = least != FAR
    number = (1 << _NUMBER_BITS) - 1
    taken = np.where(near, least & number, len(heights)).astype(np.int8)
    cost = np.where(near, least >> _NUMBER_BITS, missing_cost).sum(axis=0, dtype=np.int64)
    unsure = np.zeros(len(rows), np.bool_)
    wanted_twice = np.flatnonzero(_wanted_twice(taken, near))
    if len(wanted_twice):
        few = np.stack([one.take(wanted_twice, axis=1) for one in costs])
        assigned = best_assignments(np.where(few == FAR, NEVER, few >> _NUMBER_BITS), missing_cost)
        if assigned is None:
            unsure[wanted_twice] = True
        else:
            taken[:, wanted_twice], cost[wanted_twice] = assigned
    cost += heard.surplus[rows] - _not_surplus(taken, presence)
    return Meetings(heights, taken, near, cost, unsure)


def _not_surplus(taken: Codes, presence: Codes) -> NDArray[np.int64]:
    """Return what the tones that meet a pitch would cost if nobody wished for them."""
    count = presence.shape[1]
    silent = np.full((1, count), SILENT, np.int8)  # what takes the number after the last
    places = taken.astype(np.intp) * count + np.arange(count)
    codes = np.concatenate([presence, silent]).ravel().take(places)
    cost: NDArray[np.int64] = SURPLUS.take(codes).sum(axis=0, dtype=np.int64)
    return cost


def _costs(wish: Wish, heights: Heights, presence: Codes) -> list[Heights]:
    """Return, for each wish, what each tone would cost, with its number; FAR if it is not near."""
    within = units(wish.within_cents)
    numbers = np.arange(len(heights), dtype=np.int32)[:, None]
    more = (_MEETING[presence] << _NUMBER_BITS) + numbers
    costs = []
    for pitch in wish.wanted:
        gap = away(heights, units(pitch.cents), by_class=wish.pitch_class)
        costs.append(np.where(gap <= within, (gap << _NUMBER_BITS) + more, FAR))
    return costs


def _wanted_twice(taken: Codes, near: Mask) -> Mask:
    twice = np.zeros(taken.shape[1], np.bool_)
    for one, other in combinations(range(len(taken)), 2):
        twice |= (taken[one] == taken[other]) & near[one]
    return twice

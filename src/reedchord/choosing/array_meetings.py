"""Which tone meets which wished pitch in many sonorities at once: as `judging` gives them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from reedchord.choosing.array_assignment import NEVER, best_assignments
from reedchord.choosing.array_filters import BLOCK, FAR, away_from_all, units
from reedchord.choosing.judging import COST_OF_MISSING
from reedchord.choosing.search_wish import Wish
from reedchord.choosing.sorted_heights import Heights, Mask, Rows
from reedchord.choosing.tone_table import (
    NO_TONE,
    UNITS_PER_CENT,
    Codes,
    ToneTable,
)

_NUMBER_BITS = 4
"""Below the cost of a meeting stands the number of its tone: the least is the cheapest, and of
tones that cost the same the first. Both fit into 32 bits: costs go to 625 cents."""
_NUMBER = (1 << _NUMBER_BITS) - 1


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
    def missing_count(self) -> Codes:
        """How many wishes go without a tone."""
        count: Codes = self.missing.sum(axis=0, dtype=np.int8)
        return count

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
    missing_cost = units(wish.within_cents) + COST_OF_MISSING * UNITS_PER_CENT
    least, contended, costs = _cheapest(wish, heights, heard.meeting.take(rows, axis=1))
    taken, cost = _choices(least, len(heights), missing_cost)
    total = cost.sum(axis=0, dtype=np.int64)
    unsure = np.zeros(len(rows), np.bool_)
    if len(contended):
        found = _assigned(costs, missing_cost)
        taken[:, contended], total[contended], unsure[contended] = found
    places = taken.astype(np.intp) * len(table.records) + rows
    met_cents = heard.surplus_cents.take(places).sum(axis=0, dtype=np.int64)
    total += heard.surplus.take(rows) - met_cents * UNITS_PER_CENT
    return Meetings(heights, taken, least != FAR, total, unsure)


def _cheapest(wish: Wish, heights: Heights, more: Heights) -> tuple[Heights, Rows, Heights]:
    """Return what the cheapest tone costs each wish, with its number.

    Returns as well in which columns some wishes want the same tone, and there the costs of all.
    """
    least = np.empty((len(wish.wanted), heights.shape[1]), np.int32)
    contended, few = [], []
    for at in range(0, heights.shape[1], BLOCK):
        block = slice(at, at + BLOCK)
        costs = _costs(wish, heights[:, block], more[:, block])
        costs.min(axis=1, out=least[:, block])
        number = (least[:, block] & _NUMBER).astype(np.int8)
        columns = np.flatnonzero(_contend(number, least[:, block] != FAR).any(axis=0))
        contended.append(columns + at)
        few.append(costs.take(columns, axis=2))
    return least, np.concatenate(contended), np.concatenate(few, axis=2)


def _choices(costs: Heights, none: int, missing_cost: int) -> tuple[Codes, Heights]:
    """Return the tones that costs with numbers name, and the costs; `none` where one is FAR."""
    # What is FAR has the highest number and costs more than what is missing.
    taken = np.minimum(costs & _NUMBER, none).astype(np.int8)
    return taken, np.minimum(costs >> _NUMBER_BITS, missing_cost)


def _assigned(costs: Heights, missing_cost: int) -> tuple[Codes, NDArray[np.int64], Mask]:
    """Return what each wish takes where they contend, what all cost, and what is not known."""
    taken, total, unknown = _one_gives_way(costs, missing_cost)
    left = np.flatnonzero(unknown)
    if len(left):
        few = costs.take(left, axis=2)
        never = (few == FAR) * np.int32(NEVER)
        assigned = best_assignments(np.maximum(few >> _NUMBER_BITS, never), missing_cost)
        if assigned is not None:
            taken[:, left], total[left] = assigned
            unknown[:] = False
    return taken, total, unknown


def _one_gives_way(costs: Heights, missing_cost: int) -> tuple[Codes, NDArray[np.int64], Mask]:
    """Let one of two wishes that want the same tone take the next best for it.

    No way costs less than if the one gives way that then costs less more, so where nobody
    takes that tone, all is known. Returns as well where it is not: where more than two
    contend, or two in two ways.
    """
    tones, columns = costs.shape[1], np.arange(costs.shape[2])
    least = costs.min(axis=1)
    next_best = np.maximum(costs, (costs == least[:, None]) * np.int32(FAR)).min(axis=1)
    taken, cost = _choices(least, tones, missing_cost)
    other, other_cost = _choices(next_best, tones, missing_cost)
    more = other_cost - cost
    contends = _contend(taken, least != FAR)
    one, two = contends.argmax(axis=0), len(taken) - 1 - contends[::-1].argmax(axis=0)
    # Of ways that cost the same, the earlier wish has the lower tone.
    lower = other[one, columns] < taken[one, columns]
    of_one, of_two = more[one, columns], more[two, columns]
    yields = np.where((of_one < of_two) | ((of_one == of_two) & lower), one, two)
    its = other[yields, columns]
    is_free = (its == tones) | (taken != its).all(axis=0)
    taken[yields, columns] = its
    total = cost.sum(axis=0, dtype=np.int64) + more[yields, columns]
    return taken, total, ~(is_free & (contends.sum(axis=0) == 2))


def _contend(taken: Codes, near: Mask) -> Mask:
    """Tell which wishes want a tone that another one wants."""
    same = (taken[:, None] == taken).sum(axis=0, dtype=np.int8)
    contend: Mask = near & (same > 1)
    return contend


def _costs(wish: Wish, heights: Heights, more: Heights) -> Heights:
    """Return what each tone would cost each wish, with its number; FAR if it is not near."""
    numbers = np.arange(len(heights), dtype=np.int32)[:, None]
    costs = away_from_all(heights, wish)
    # A processor guesses badly which tones are near: taking the greater needs no guess.
    far = (costs > units(wish.within_cents)) * np.int32(FAR)
    costs <<= _NUMBER_BITS
    costs += (more << _NUMBER_BITS) + numbers
    return np.maximum(costs, far, out=costs)

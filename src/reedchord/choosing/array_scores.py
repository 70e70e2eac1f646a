"""What a wish costs with many sonorities at once: the same figures as `judging.judge`."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from itertools import combinations
from typing import Any

import numpy as np
from numpy.typing import NDArray

from reedchord.choosing.judging import (
    COST_OF_MISSING,
    COST_OF_OTHER_EMPHASIS,
    COST_OF_PRESENCE,
    COST_OF_SURPLUS,
    judge,
)
from reedchord.choosing.search_conditions import COST_OF_UNKNOWN, Search, connection
from reedchord.choosing.search_wish import Wish
from reedchord.choosing.tone_table import (
    NO_TONE,
    OCTAVE,
    PRESENCES,
    UNITS_PER_CENT,
    UNKNOWN,
    Heights,
    ToneTable,
    family_place,
    whole_units,
)
from reedchord.pitch import Pitch
from reedchord.sonority_fields import Evidence

Rows = NDArray[np.intp]
Mask = NDArray[np.bool_]

_FAR = 2**31 - 1
_BLOCK = 4_096
_MEETING = np.array([COST_OF_PRESENCE[p] * UNITS_PER_CENT for p in PRESENCES] + [0], np.int32)
_SURPLUS = np.array([COST_OF_SURPLUS[p] for p in PRESENCES] + [0], np.int32)


@dataclass(frozen=True)
class Scores:
    """For each of some rows of a table: broken wishes, missing pitches, and what ranks it."""

    rows: Rows
    ruled_out: NDArray[np.int64]
    missing: NDArray[np.int64]
    far: NDArray[np.int64]
    gaps: NDArray[np.float64]
    cost: NDArray[np.float64]


def units(cents: Fraction) -> int:
    """Return cents that are known to lie on the grid in units."""
    whole = whole_units(cents)
    assert whole is not None  # wishes between the units never come here
    return whole


def away(heights: Heights, wished: int, *, pitch_class: bool) -> Heights:
    """Return how far heights lie from a wished one, in units; NO_TONE stays far away.

    For pitch classes, heights are those within the octave.
    """
    if not pitch_class:
        gap: Heights = np.abs(heights - np.int32(wished))
        return gap
    gap = np.abs(heights - np.int32(wished % OCTAVE))
    around: Heights = np.minimum(gap, np.abs(OCTAVE - gap))
    return around


def scores(table: ToneTable, search: Search, rows: Rows, *, nearest: bool) -> Scores:
    """Hold some rows against a wish; `far` and `gaps` are made only for the `nearest`.

    Rows go block by block: arrays that stay in the processor's cache are several times faster.
    """
    starts = range(0, max(len(rows), 1), _BLOCK)
    blocks = [_scores(table, search, rows[at : at + _BLOCK], nearest=nearest) for at in starts]
    return Scores(*map(np.concatenate, zip(*map(_columns_of, blocks), strict=True)))


def _columns_of(made: Scores) -> tuple[NDArray[Any], ...]:
    return made.rows, made.ruled_out, made.missing, made.far, made.gaps, made.cost


def _scores(table: ToneTable, search: Search, rows: Rows, *, nearest: bool) -> Scores:
    tally = _Tally(table, search.wish, rows)
    tally.hold_pitches(nearest=nearest)
    for rule in (_columns, _counts, _outer_tones, _intervals, _avoided):
        rule(tally)
    tally.unsure |= table.off_grid[rows]
    if search.home is not None:
        _connect(tally, search, ~tally.unsure if nearest else tally.ruled_out == 0)
    made = Scores(
        rows,
        tally.ruled_out,
        tally.missing,
        tally.far,
        tally.gaps / UNITS_PER_CENT,
        tally.cost / UNITS_PER_CENT,
    )
    for index in np.flatnonzero(tally.unsure):
        _judged_alone(table, search, made, int(index))
    return made


def _judged_alone(table: ToneTable, search: Search, made: Scores, index: int) -> None:
    one = judge(search, table.records[made.rows[index]])
    made.ruled_out[index] = len(one.ruled_out)
    made.missing[index] = len(one.missing)
    made.far[index], made.gaps[index] = one.gaps
    made.cost[index] = one.cost


@dataclass(frozen=True)
class _Meetings:
    """Which rows meet a wished pitch, by their places among the rows, and with which tone."""

    met: Rows
    best: Rows


class _Tally:
    """Adds up, rule by rule, what a wish costs with each of some rows."""

    def __init__(self, table: ToneTable, wish: Wish, rows: Rows) -> None:
        self.table, self.wish, self.rows = table, wish, rows
        heard = table.heard(wish.dynamic, written=wish.written)
        placed = heard.classes if wish.pitch_class else heard.heights
        self.placed = placed.take(rows, axis=1)
        self.presence = heard.presence.take(rows, axis=1)
        self.within = units(wish.within_cents)
        count = len(rows)
        self.cost = np.zeros(count, np.int64)
        self.ruled_out = np.zeros(count, np.int64)
        self.missing = np.zeros(count, np.int64)
        self.far = np.zeros(count, np.int64)
        self.gaps = np.zeros(count, np.int64)
        self.unsure = np.zeros(count, np.bool_)

    @cached_property
    def heights(self) -> Heights:
        """Heights of the tones that are heard, also where octaves do not count."""
        heard = self.table.heard(self.wish.dynamic, written=self.wish.written)
        return heard.heights.take(self.rows, axis=1)

    @cached_property
    def there(self) -> Mask:
        """Where a tone is heard."""
        heard: Mask = self.placed != NO_TONE
        return heard

    def away(self, pitch: Pitch) -> Heights:
        """Return how far each tone lies from a pitch, in units."""
        return away(self.placed, units(pitch.cents), pitch_class=self.wish.pitch_class)

    def hold_pitches(self, *, nearest: bool) -> None:
        """Let each wished pitch take the tone that is cheapest for it.

        Where two want the same tone, only a true assignment decides: those rows are unsure.
        Of tones that cost the same, both take the first; but an assignment adds floats, so
        that costs of broken cents may not tie there: those rows are unsure as well.
        """
        wanted = self.wish.wanted
        if not wanted:
            return
        taken = np.zeros(self.placed.shape, np.bool_)
        surplus = _SURPLUS[self.presence]
        meetings = [self._meet(self.away(pitch), surplus, taken) for pitch in wanted]
        self.missing += len(wanted)
        for found in meetings:
            self.missing[found.met] -= 1
        missing_cost = self.within + COST_OF_MISSING * UNITS_PER_CENT
        self.cost += self.missing * missing_cost
        self.cost += surplus.sum(axis=0, dtype=np.int64) * UNITS_PER_CENT
        if self.wish.pitches:
            self.ruled_out += self.missing == len(wanted)
        self._hold_emphasis(meetings)
        if nearest:
            self._look_around(meetings, self.there & ~taken)

    def _meet(self, gap: Heights, surplus: NDArray[np.int32], taken: Mask) -> _Meetings:
        """Add the cost of meeting one pitch, and take the tones that meet it."""
        near = gap <= self.within
        met = np.flatnonzero(np.logical_or.reduce(near, axis=0))
        cost = gap.take(met, axis=1) + _MEETING[self.presence.take(met, axis=1)]
        cost[~near.take(met, axis=1)] = _FAR
        best = cost.argmin(axis=0)
        least = cost[best, np.arange(len(met))]
        uneven = np.flatnonzero(least % UNITS_PER_CENT)
        tied = (cost[:, uneven] == least[uneven]).sum(axis=0) > 1
        self.unsure[met[uneven]] |= tied
        self.unsure[met] |= taken[best, met]
        taken[best, met] = True
        surplus[best, met] = 0
        self.cost[met] += least
        return _Meetings(met, best)

    def _hold_emphasis(self, meetings: list[_Meetings]) -> None:
        if self.wish.emphasised is None:
            return
        index = self.wish.emphasised_index
        found = meetings[-1 if index is None else index]
        other = found.best + 1 != self.table.emphasised[self.rows[found.met]]
        self.ruled_out += 1
        self.ruled_out[found.met] -= 1
        self.cost[found.met] += other * np.int64(COST_OF_OTHER_EMPHASIS * UNITS_PER_CENT)

    def _look_around(self, meetings: list[_Meetings], free: Mask) -> None:
        """Measure from each missing pitch to the nearest tone that meets no other."""
        alone = ~free.any(axis=0)
        for pitch, found in zip(self.wish.wanted, meetings, strict=True):
            missing = np.ones(len(self.rows), np.bool_)
            missing[found.met] = False
            gap = np.where(free, self.away(pitch), _FAR).min(axis=0)
            self.far += missing & alone
            self.gaps += np.where(missing & ~alone, gap, 0)

    def add(self, cost: NDArray[np.int32], ruled_out: Mask) -> None:
        """Add gaps, rounded to whole cents as `round` does it, and broken wishes."""
        self.cost += np.rint(cost / UNITS_PER_CENT).astype(np.int64) * UNITS_PER_CENT
        self.ruled_out += ruled_out

    def add_unknown(self, unknown: Mask) -> None:
        self.cost += unknown * np.int64(COST_OF_UNKNOWN * UNITS_PER_CENT)


def breaks_columns(table: ToneTable, wish: Wish) -> list[Mask]:
    """Return, for each wish that is a fact of the record, which rows of the table break it."""
    broken = []
    if wish.saxophones:
        wished = [family_place(member) for member in wish.saxophones]
        broken.append(~np.isin(table.saxophones, wished))
    if wish.evidence is not None:
        broken.append(table.evidence < tuple(Evidence).index(wish.evidence))
    if wish.dynamic is not None:
        level = wish.dynamic.level
        softest, loudest = table.dynamics
        broken.append(((softest > level) | (loudest < level)) & (softest != UNKNOWN))
    if wish.speed is not None or wish.articulation is not None:
        speeds = table.speeds(wish.articulation, wish.dynamic)
        too_slow = speeds.ranks < speeds.first_rank(wish.speed)
        broken.append(too_slow & (speeds.ranks != UNKNOWN))
    return broken


def _columns(tally: _Tally) -> None:
    table, wish = tally.table, tally.wish
    for broken in breaks_columns(table, wish):
        tally.ruled_out += broken[tally.rows]
    if wish.dynamic is not None:
        tally.add_unknown(table.dynamics[0][tally.rows] == UNKNOWN)
    if wish.speed is not None or wish.articulation is not None:
        speeds = table.speeds(wish.articulation, wish.dynamic)
        tally.add_unknown(speeds.ranks[tally.rows] == UNKNOWN)


def _counts(tally: _Tally) -> None:
    if tally.wish.tone_count is not None:
        tally.ruled_out += tally.there.sum(axis=0) != tally.wish.tone_count


def _outer_tones(tally: _Tally) -> None:
    some = tally.there.any(axis=0)
    for pitch, outer in (
        (tally.wish.lowest, tally.heights.min(axis=0)),
        (tally.wish.highest, np.where(tally.there, tally.heights, -_FAR).max(axis=0)),
    ):
        if pitch is not None:
            gap = _gap(np.where(some, outer, 0), pitch.cents, tally.wish)
            tally.add(np.where(some, gap, 0), some & (gap > tally.within))


def _gap(heights: Heights, wished: Fraction, wish: Wish) -> Heights:
    by_class = wish.pitch_class
    return away(heights % OCTAVE if by_class else heights, units(wished), pitch_class=by_class)


def _intervals(tally: _Tally) -> None:
    for semitones in tally.wish.intervals:
        nearest = np.full(len(tally.rows), _FAR, np.int32)
        for low, high in combinations(range(len(tally.heights)), 2):
            both = tally.there[low] & tally.there[high]
            between = np.abs(tally.heights[high] - tally.heights[low])
            gap = _gap(between, 100 * semitones, tally.wish)
            nearest = np.where(both & (gap < nearest), gap, nearest)
        tally.add(np.where(nearest == _FAR, 0, nearest), nearest > tally.within)


def _avoided(tally: _Tally) -> None:
    wish = tally.wish
    if not wish.avoid:
        return
    concert = tally.table.heard(wish.dynamic, written=False).heights.take(tally.rows, axis=1)
    for pitch in wish.avoid:
        gap = away(concert, units(pitch.cents), pitch_class=False)
        tally.ruled_out += (gap <= units(wish.avoid_within_cents)).sum(axis=0)


def _connect(tally: _Tally, search: Search, where: Mask) -> None:
    """Ask the fingers, one record after the other: there is no array for them."""
    for index in np.flatnonzero(where):
        for verdict in connection(search, tally.table.records[tally.rows[index]], ()):
            tally.ruled_out[index] += verdict.rules_out
            tally.cost[index] += verdict.cost * UNITS_PER_CENT

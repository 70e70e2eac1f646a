"""The tones of a whole collection as arrays, so that one search can look at all at once."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from reedchord.choosing.finger_table import FingerTable, finger_table
from reedchord.choosing.judging import COST_OF_PRESENCE, COST_OF_SURPLUS
from reedchord.choosing.sorted_heights import Heights, Rows, SortedHeights, sorted_heights
from reedchord.dynamics import SCALE, Dynamic
from reedchord.pitch import CENTS_PER_OCTAVE
from reedchord.rhythm import Rate
from reedchord.saxophones import FAMILY, Saxophone
from reedchord.sonority import Sonority
from reedchord.sonority_fields import Articulation, Presence

UNITS_PER_CENT = 25_200
"""Heights are whole numbers of this fraction of a cent, so that array arithmetic is as exact as
that of fractions: hundredths, and all denominators to 10, lie on the grid, and the highest tone
of the family (C8 of the sopranino, 11,100 cents) stays below a quarter of 32 bits."""
OCTAVE = CENTS_PER_OCTAVE * UNITS_PER_CENT
NO_TONE = 2**30
"""Stands where a sonority has no further tone, or where a tone is absent at a dynamic."""
UNKNOWN, UNUSABLE = -1, -2

PRESENCES: tuple[Presence | None, ...] = (
    Presence.DOMINANT,
    Presence.CLEAR,
    None,
    Presence.FAINT,
)
SILENT = len(PRESENCES)
"""Code of presence where there is no tone to hear; the others are indexes of `PRESENCES`."""
_MEETING = np.array([COST_OF_PRESENCE[p] * UNITS_PER_CENT for p in PRESENCES] + [0], np.int32)
_SURPLUS_CENTS = np.array([COST_OF_SURPLUS[p] for p in PRESENCES] + [0], np.int8)
AT_BEST = len(SCALE)
"""Place, after those of the marks, of a tone's best presence."""

Codes = NDArray[np.int8]


@dataclass(frozen=True, eq=False)
class HeardTones:
    """Tones that are not absent at a dynamic: heights in units, NO_TONE else; presence codes.

    A row for each tone number, a column for each sonority.
    """

    heights: Heights
    presence: Codes

    @cached_property
    def classes(self) -> Heights:
        """Heights within the octave, for wishes in which octaves do not count."""
        return np.where(self.heights == NO_TONE, self.heights, self.heights % OCTAVE)

    @cached_property
    def count(self) -> Codes:
        """How many tones are heard of each sonority."""
        count: Codes = (self.heights != NO_TONE).sum(axis=0, dtype=np.int8)
        return count

    @cached_property
    def meeting(self) -> Heights:
        """What each tone costs where it meets a wish, beside what lies between them, in units."""
        return _MEETING.take(self.presence)

    @cached_property
    def surplus_cents(self) -> Codes:
        """What each tone costs where nobody wished for it, in cents; in a last row nothing."""
        silent = np.full((1, self.presence.shape[1]), SILENT, np.int8)
        return _SURPLUS_CENTS.take(np.concatenate([self.presence, silent]))

    @cached_property
    def surplus(self) -> NDArray[np.int32]:
        """What the tones of each sonority cost where none of them is wished for, in units."""
        cents: NDArray[np.int32] = self.surplus_cents.sum(axis=0, dtype=np.int32)
        return cents * np.int32(UNITS_PER_CENT)

    @cached_property
    def outer(self) -> tuple[Heights, Heights]:
        """Height of the lowest and of the highest tone of each sonority, NO_TONE without one."""
        highest = np.where(self.heights == NO_TONE, -NO_TONE, self.heights).max(axis=0)
        return self.heights.min(axis=0), np.where(self.count > 0, highest, NO_TONE)

    @cached_property
    def by_height(self) -> SortedHeights:
        """All tones in order."""
        numbers, rows = np.nonzero(self.heights != NO_TONE)
        return sorted_heights(self.heights[numbers, rows], rows)

    @cached_property
    def by_width(self) -> SortedHeights:
        """The intervals between all pairs of tones of each sonority, in order."""
        there = self.heights != NO_TONE
        found = [
            (np.abs(self.heights[low, rows] - self.heights[high, rows]), rows)
            for low, high in combinations(range(len(self.heights)), 2)
            for rows in [np.flatnonzero(there[low] & there[high])]
        ]
        none: tuple[Heights, Rows] = np.empty(0, np.int32), np.empty(0, np.intp)
        widths, rows = zip(none, *found, strict=True)
        return sorted_heights(np.concatenate(widths), np.concatenate(rows))


@dataclass(frozen=True, eq=False)
class Speeds:
    """The fastest usable articulation of each sonority at a dynamic, as a rank in `rates`."""

    rates: list[Fraction]
    """Attacks a second, slowest first."""
    ranks: NDArray[np.int32]
    """Index in `rates`; UNKNOWN without a limit, UNUSABLE without one for the dynamic."""

    def first_rank(self, wished: Rate | None) -> int:
        """Return the rank of the slowest rate that is fast enough; any is, without a wish."""
        return bisect_left(self.rates, wished.attacks_per_second) if wished else 0


@dataclass(frozen=True, eq=False)
class Limits:
    """All limits of all sonorities, each with its row and the rank of its rate in `rates`."""

    rates: list[Fraction]
    """Attacks a second, slowest first."""
    rows: Rows
    ranks: NDArray[np.int32]
    ways: Codes
    """Places among the ways of articulating."""
    levels: Codes
    """Levels of the softest and the loudest dynamic; the whole scale where a limit names none."""


@dataclass(frozen=True, eq=False)
class ToneTable:
    """A collection as columns, in the order of ids.

    What only some wishes need is made of the columns when it is asked for.
    """

    records: Sequence[Sonority]
    concert: Heights
    off_grid: NDArray[np.bool_]
    """Sonorities with a tone between the units; arrays cannot judge them."""
    presences: Codes
    """Each way in which presences occur: a row of codes, for the marks and at the best."""
    presence: NDArray[np.int32]
    """Place in `presences` of each tone; 0, which is silent everywhere, without a tone."""
    saxophones: Codes
    """Places in the family's table, highest member first."""
    places: NDArray[np.int32]
    """Place of each sonority in its collection."""
    evidence: Codes
    """Kinds of evidence, 0 the weakest."""
    emphasised: Codes
    """Number of the emphasised tone, 0 where there is none."""
    said_dynamics: Codes
    """Levels of the softest and the loudest dynamic that records name, UNKNOWN without."""
    limits: Limits
    _heard: dict[tuple[Dynamic | None, bool], HeardTones] = field(default_factory=dict)
    _speeds: dict[tuple[Articulation | None, Dynamic | None], Speeds] = field(default_factory=dict)
    _fingers: dict[int, tuple[Rows, FingerTable]] = field(default_factory=dict)

    @cached_property
    def row_of(self) -> dict[str, int]:
        """Rows by the ids of their sonorities."""
        return {record.id: row for row, record in enumerate(self.records)}

    @cached_property
    def alone(self) -> Rows:
        """Rows of the sonorities that arrays cannot judge."""
        return np.flatnonzero(self.off_grid)

    @cached_property
    def written(self) -> Heights:
        """Written heights."""
        shifts = [100 * UNITS_PER_CENT * member.semitones for member in FAMILY.values()]
        shift = np.array(shifts, np.int32)[self.saxophones]
        return np.where(self.concert == NO_TONE, self.concert, self.concert - shift)

    @cached_property
    def dynamics(self) -> Codes:
        """Levels of the softest and the loudest possible dynamic, UNKNOWN where nobody said."""
        at_marks = self.presences[:, :AT_BEST]
        heard = (at_marks != SILENT) & (at_marks != PRESENCES.index(None))
        as_bits = heard @ (1 << np.arange(AT_BEST))
        marks = np.bitwise_or.reduce(as_bits[self.presence], axis=0)
        loudest = np.frexp(marks.astype(np.float32))[1] - 1
        softest = np.frexp((marks & -marks).astype(np.float32))[1] - 1
        shown = np.where(marks == 0, UNKNOWN, np.stack([softest, loudest])).astype(np.int8)
        return np.where(self.said_dynamics == UNKNOWN, shown, self.said_dynamics)

    def heard(self, dynamic: Dynamic | None, *, written: bool) -> HeardTones:
        """Return the tones that are heard at a dynamic, or at the best one."""
        if (dynamic, written) not in self._heard:
            other = self._heard.get((dynamic, not written))
            level = AT_BEST if dynamic is None else dynamic.level
            presence = other.presence if other else self.presences[:, level][self.presence]
            heights = self.written if written else self.concert
            heights = np.where(presence == SILENT, np.int32(NO_TONE), heights)
            self._heard[dynamic, written] = HeardTones(heights, presence)
        return self._heard[dynamic, written]

    def speeds(self, articulation: Articulation | None, dynamic: Dynamic | None) -> Speeds:
        """Return how fast each sonority can be articulated, in a way or any, at a dynamic."""
        if (articulation, dynamic) not in self._speeds:
            ranks = _fastest(self.limits, len(self.records), articulation, dynamic)
            self._speeds[articulation, dynamic] = Speeds(self.limits.rates, ranks)
        return self._speeds[articulation, dynamic]

    def fingers(self, member: Saxophone) -> tuple[Rows, FingerTable]:
        """Return the rows of one saxophone, of which there is at least one, and their fingers."""
        place = family_place(member)
        if place not in self._fingers:
            rows = np.flatnonzero(self.saxophones == place)
            table = finger_table(self.records[row].fingering for row in rows.tolist())
            self._fingers[place] = rows, table
        return self._fingers[place]


_WAYS = tuple(Articulation)


def _fastest(
    limits: Limits, count: int, articulation: Articulation | None, dynamic: Dynamic | None
) -> NDArray[np.int32]:
    if articulation is None:
        counts = limits.ways != _WAYS.index(Articulation.SLUR)
    else:
        counts = limits.ways == _WAYS.index(articulation)
    usable = counts
    if dynamic is not None:
        softest, loudest = limits.levels
        usable = counts & (softest <= dynamic.level) & (dynamic.level <= loudest)
    ranks = np.full(count, UNKNOWN, np.int32)
    ranks[limits.rows[counts]] = UNUSABLE
    np.maximum.at(ranks, limits.rows[usable], limits.ranks[usable])
    return ranks


_PLACES = {name: place for place, name in enumerate(FAMILY)}


def family_place(member: Saxophone) -> int:
    """Return the place of a saxophone in the family's table."""
    return _PLACES[member.name]


def whole_units(cents: Fraction) -> int | None:
    """Return cents in units, None where they lie between two."""
    units, rest = divmod(cents.numerator * UNITS_PER_CENT, cents.denominator)
    return None if rest else units

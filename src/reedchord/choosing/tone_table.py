"""The tones of a whole collection as arrays, so that one search can look at all at once."""

from __future__ import annotations

import weakref
from bisect import bisect_left
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from reedchord.choosing.search_conditions import presence_of, usable_limits
from reedchord.collection import Collection
from reedchord.dynamics import Dynamic
from reedchord.pitch import CENTS_PER_OCTAVE, NATURAL_CENTS
from reedchord.rhythm import Rate
from reedchord.saxophones import FAMILY, Saxophone
from reedchord.sonority import Sonority
from reedchord.sonority_fields import Articulation, Evidence, Presence, Tone

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
_CODES = {presence: code for code, presence in enumerate(PRESENCES)}

Heights = NDArray[np.int32]
"""A row for each tone number, a column for each sonority."""


@dataclass(frozen=True)
class HeardTones:
    """Tones that are not absent at a dynamic: heights in units, NO_TONE else; presence codes."""

    heights: Heights
    presence: NDArray[np.int8]

    @cached_property
    def classes(self) -> Heights:
        """Heights within the octave, for wishes in which octaves do not count."""
        return np.where(self.heights == NO_TONE, self.heights, self.heights % OCTAVE)


@dataclass(frozen=True)
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
class ToneTable:
    """A collection as columns; those that only some wishes need are made when asked for."""

    records: tuple[Sonority, ...]
    concert: Heights
    written: Heights
    off_grid: NDArray[np.bool_]
    """Sonorities with a tone between the units; arrays cannot judge them."""
    saxophones: NDArray[np.int8]
    """Places in the family's table, highest member first."""
    id_ranks: NDArray[np.int32]
    """Place of each id in the order of ids."""
    _heard: dict[tuple[Dynamic | None, bool], HeardTones] = field(default_factory=dict)
    _speeds: dict[tuple[Articulation | None, Dynamic | None], Speeds] = field(default_factory=dict)

    @cached_property
    def evidence(self) -> NDArray[np.int8]:
        """Kinds of evidence, 0 the weakest."""
        kinds = {kind: place for place, kind in enumerate(Evidence)}
        return np.array([kinds[record.evidence] for record in self.records], np.int8)

    @cached_property
    def emphasised(self) -> NDArray[np.int8]:
        """Number of the emphasised tone, 0 where there is none."""
        return np.array([record.emphasised_number or 0 for record in self.records], np.int8)

    @cached_property
    def dynamics(self) -> NDArray[np.int8]:
        """Levels of the softest and the loudest possible dynamic, UNKNOWN where nobody said."""
        ranges = (record.possible_dynamics() for record in self.records)
        levels = [(r.softest.level, r.loudest.level) if r else (UNKNOWN, UNKNOWN) for r in ranges]
        return np.array(levels, np.int8).T

    def heard(self, dynamic: Dynamic | None, *, written: bool) -> HeardTones:
        """Return the tones that are heard at a dynamic, or at the best one."""
        if (dynamic, written) not in self._heard:
            other = self._heard.get((dynamic, not written))
            presence = other.presence if other else self._presence_codes(dynamic)
            heights = self.written if written else self.concert
            heights = np.where(presence == SILENT, np.int32(NO_TONE), heights)
            self._heard[dynamic, written] = HeardTones(heights, presence)
        return self._heard[dynamic, written]

    def _presence_codes(self, dynamic: Dynamic | None) -> NDArray[np.int8]:
        silent = [SILENT] * len(self.concert)
        codes = [
            [_CODES.get(presence_of(tone, dynamic), SILENT) for tone in record.tones] + silent
            for record in self.records
        ]
        return np.array([row[: len(silent)] for row in codes], np.int8).T.copy()

    def speeds(self, articulation: Articulation | None, dynamic: Dynamic | None) -> Speeds:
        """Return how fast each sonority can be articulated, in a way or any, at a dynamic."""
        if (articulation, dynamic) not in self._speeds:
            fastest = [_fastest(record, articulation, dynamic) for record in self.records]
            rates = sorted({rate for rate in fastest if isinstance(rate, Fraction)})
            rank_of: dict[Fraction | int, int] = {rate: rank for rank, rate in enumerate(rates)}
            ranks = [rate if isinstance(rate, int) else rank_of[rate] for rate in fastest]
            self._speeds[articulation, dynamic] = Speeds(rates, np.array(ranks, np.int32))
        return self._speeds[articulation, dynamic]


def _fastest(
    record: Sonority, articulation: Articulation | None, dynamic: Dynamic | None
) -> Fraction | int:
    limits, usable = usable_limits(record, articulation, dynamic)
    if not limits:
        return UNKNOWN
    return max((limit.fastest.attacks_per_second for limit in usable), default=UNUSABLE)


_TABLES: dict[int, tuple[weakref.ref[Collection], ToneTable]] = {}


def tone_table(collection: Collection) -> ToneTable:
    """Return the collection's table, made once and kept as long as the collection lives."""
    key = id(collection)
    known = _TABLES.get(key)
    if known and known[0]() is collection and len(known[1].records) == len(collection):
        return known[1]
    table = make_tone_table(tuple(collection))
    _TABLES[key] = weakref.ref(collection, lambda _: _TABLES.pop(key, None)), table
    return table


def make_tone_table(records: tuple[Sonority, ...]) -> ToneTable:
    """Return the table of these sonorities."""
    shifts = [100 * UNITS_PER_CENT * record.saxophone.semitones for record in records]
    heights = [
        [_concert_units(tone, shift) for tone in record.tones]
        for record, shift in zip(records, shifts, strict=True)
    ]
    most = max(map(len, heights), default=1)
    rows = [[NO_TONE if u is None else u for u in row] + [NO_TONE] * most for row in heights]
    concert = np.array([row[:most] for row in rows], np.int32).reshape(len(records), most).T.copy()
    return ToneTable(
        records=records,
        concert=concert,
        written=np.where(concert == NO_TONE, concert, concert - np.array(shifts, np.int32)),
        off_grid=np.array([None in row for row in heights], np.bool_),
        saxophones=np.array([family_place(record.saxophone) for record in records], np.int8),
        id_ranks=_ranks([record.id for record in records]),
    )


_PLACES = {name: place for place, name in enumerate(FAMILY)}


def family_place(member: Saxophone) -> int:
    """Return the place of a saxophone in the family's table."""
    return _PLACES[member.name]


def _concert_units(tone: Tone, shift_units: int) -> int | None:
    pitch = tone.written or tone.concert
    assert pitch is not None  # a tone without either is refused
    altered = whole_units(pitch.alteration_cents)
    if altered is None:
        return None
    natural_cents = NATURAL_CENTS[pitch.step] + CENTS_PER_OCTAVE * (pitch.octave + 1)
    concert = natural_cents * UNITS_PER_CENT + altered
    return concert + shift_units if tone.written else concert


def whole_units(cents: Fraction) -> int | None:
    """Return cents in units, None where they lie between two."""
    units, rest = divmod(cents.numerator * UNITS_PER_CENT, cents.denominator)
    return None if rest else units


def _ranks(ids: list[str]) -> NDArray[np.int32]:
    ranks = np.empty(len(ids), np.int32)
    ranks[sorted(range(len(ids)), key=ids.__getitem__)] = np.arange(len(ids), dtype=np.int32)
    return ranks

"""The columns of a table, read from the records of a collection."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

import numpy as np

from reedchord.choosing.kept import kept
from reedchord.choosing.table_file import keep_table, kept_table
from reedchord.choosing.tone_table import (
    AT_BEST,
    NO_TONE,
    PRESENCES,
    SILENT,
    UNITS_PER_CENT,
    UNKNOWN,
    Codes,
    Limits,
    ToneTable,
    family_place,
    whole_units,
)
from reedchord.collection import Collection
from reedchord.dynamics import SCALE, Dynamic, DynamicRange
from reedchord.rhythm import Rate
from reedchord.sonority import Sonority
from reedchord.sonority_fields import Articulation, Evidence, Presence, Tone


@kept
def tone_table(collection: Collection) -> ToneTable:
    """Return the collection's table: the one that was kept, or one that is made and kept."""
    table = kept_table(collection)
    if table is None:
        table = make_tone_table(tuple(collection))
        keep_table(collection, table)
    return table


def make_tone_table(records: tuple[Sonority, ...]) -> ToneTable:
    """Return the table of these sonorities, in the order of their ids."""
    order = sorted(range(len(records)), key=lambda place: records[place].id)
    records = tuple(records[place] for place in order)
    members = [family_place(record.saxophone) for record in records]
    numbers = [number for record in records for number in range(len(record.tones))]
    rows = [row for row, record in enumerate(records) for _ in record.tones]
    heights = [height for record in records for height in _heights(record)]
    presences = _Presences()
    concert = np.full((max(numbers, default=0) + 1, len(records)), NO_TONE, np.int32)
    concert[numbers, rows] = [NO_TONE if height is None else height for height in heights]
    presence = np.zeros(concert.shape, np.int32)
    presence[numbers, rows] = [presences.place(tone) for one in records for tone in one.tones]
    off_grid = np.zeros(len(records), np.bool_)
    off_grid[[row for row, height in zip(rows, heights, strict=True) if height is None]] = True
    return ToneTable(
        records=records,
        concert=concert,
        off_grid=off_grid,
        presences=presences.codes(),
        presence=presence,
        saxophones=np.array(members, np.int8),
        places=np.array(order, np.int32),
        evidence=np.array([_EVIDENCE[record.evidence] for record in records], np.int8),
        emphasised=np.array([record.emphasised_number or 0 for record in records], np.int8),
        said_dynamics=_said_dynamics(records),
        limits=_limits(records),
    )


def _heights(record: Sonority) -> list[int | None]:
    """Return the concert heights of the tones in units, None for one between two units."""
    shift = 100 * UNITS_PER_CENT * record.saxophone.semitones
    return [_concert_units(tone, shift) for tone in record.tones]


def _concert_units(tone: Tone, shift_units: int) -> int | None:
    pitch = tone.written or tone.concert
    assert pitch is not None  # a tone without either is refused
    altered = whole_units(pitch.alteration_cents)
    if altered is None:
        return None
    concert = pitch.natural_cents * UNITS_PER_CENT + altered
    return concert + shift_units if tone.written else concert


_CODES = {presence: code for code, presence in enumerate(PRESENCES)} | {Presence.ABSENT: SILENT}
_EVIDENCE = {kind: place for place, kind in enumerate(Evidence)}
_LEVELS = {mark: mark.level for mark in SCALE}
_WAYS = {way: place for place, way in enumerate(Articulation)}


class _Presences:
    """Numbers the ways in which presences occur; many tones have the same."""

    def __init__(self) -> None:
        self._places: dict[tuple[tuple[Dynamic, Presence], ...], int] = {}
        self._codes = [[SILENT] * (AT_BEST + 1)]

    def place(self, tone: Tone) -> int:
        """Return the place of a tone's presences among all."""
        known = tuple(tone.presence.items())
        place = self._places.get(known)
        if place is None:
            place = self._places[known] = len(self._codes)
            codes = [_CODES[None]] * (AT_BEST + 1)
            for mark, presence in known:
                codes[_LEVELS[mark]] = _CODES[presence]
            codes[AT_BEST] = min((_CODES[one] for one in tone.presence.values()), default=codes[-1])
            self._codes.append(codes)
        return place

    def codes(self) -> Codes:
        return np.array(self._codes, np.int8)


def _said_dynamics(records: Iterable[Sonority]) -> Codes:
    levels = [_levels(record.dynamics, (UNKNOWN, UNKNOWN)) for record in records]
    return np.array(levels, np.int8).reshape(-1, 2).T


def _levels(dynamics: DynamicRange | None, otherwise: tuple[int, int]) -> tuple[int, int]:
    return (_LEVELS[dynamics.softest], _LEVELS[dynamics.loudest]) if dynamics else otherwise


def _limits(records: Iterable[Sonority]) -> Limits:
    every = [(row, limit) for row, record in enumerate(records) for limit in record.limits]
    attacks = _attacks_per_second([limit.fastest for _, limit in every])
    rates = sorted(set(attacks))
    ranks = {rate: rank for rank, rate in enumerate(rates)}
    levels = [_levels(limit.dynamics, (0, AT_BEST - 1)) for _, limit in every]
    return Limits(
        rates=rates,
        rows=np.array([row for row, _ in every], np.intp),
        ranks=np.array([ranks[rate] for rate in attacks], np.int32),
        ways=np.array([_WAYS[limit.articulation] for _, limit in every], np.int8),
        levels=np.array(levels, np.int8).reshape(-1, 2).T,
    )


def _attacks_per_second(rates: list[Rate]) -> list[Fraction]:
    """Return how fast each is; many are the same, and fractions take long to reckon."""
    known: dict[tuple[str, int, str, int, int, int], Fraction] = {}
    attacks = []
    for rate in rates:
        value, beat, mark = rate.value, rate.beat, rate.beats_per_minute
        key = value.type, value.dots, beat.type, beat.dots, mark.numerator, mark.denominator
        if key not in known:
            known[key] = rate.attacks_per_second
        attacks.append(known[key])
    return attacks

"""Which wishes many sonorities break, told from columns and from what lies near to a height."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import product

import numpy as np
from numpy.typing import NDArray

from reedchord.choosing.connection import POINTS_OF_DOCUMENTED, POINTS_OF_UNKNOWN_EMBOUCHURE
from reedchord.choosing.search_conditions import Search
from reedchord.choosing.search_wish import Wish
from reedchord.choosing.sorted_heights import Heights, Mask, Rows
from reedchord.choosing.tone_table import (
    OCTAVE,
    UNKNOWN,
    Codes,
    ToneTable,
    family_place,
    whole_units,
)
from reedchord.fingering_change import MOST_MODERATE
from reedchord.pitch import Pitch
from reedchord.sonority import Sonority
from reedchord.sonority_fields import Evidence

FAR = 2**31 - 1
"""Stands where nothing is near."""
BLOCK = 4_096
"""So many rows at a time: arrays that stay in the processor's cache are several times faster."""


@dataclass(frozen=True, eq=False)
class Looked:
    """What a look at a whole table tells, a column for each of its rows.

    Of rows off the grid nothing is known: they count as near to all and as breaking nothing.
    """

    broken: NDArray[np.int16]
    """How many wishes are broken, but for a pitch to bring out that has a tone near and yet does
    not get it."""
    near: NDArray[np.int8]
    """How many of the wished pitches have a tone near."""
    widths: list[Heights]
    """For each wished interval, how far the nearest two tones are from it; FAR if not near."""
    connecting: NDArray[np.int32] | None
    """What it costs to connect, where that is wished."""


def units(cents: Fraction) -> int:
    """Return cents that are known to lie on the grid in units."""
    whole = whole_units(cents)
    assert whole is not None  # wishes between the units never come here
    return whole


def away(heights: Heights, wished: int | Heights, *, by_class: bool) -> Heights:
    """Return how far heights lie from wished ones, in units; NO_TONE stays far away.

    For pitch classes, heights are those within the octave.
    """
    gap: Heights = heights - np.int32(wished % OCTAVE if by_class else wished)
    np.abs(gap, out=gap)
    if by_class:
        np.minimum(gap, np.abs(OCTAVE - gap), out=gap)
    return gap


def away_from_all(heights: Heights, wish: Wish) -> Heights:
    """Return how far tones lie from each wished pitch: a plane for each."""
    wished = np.array([units(pitch.cents) for pitch in wish.wanted], np.int32)
    return away(heights, wished[:, None, None], by_class=wish.pitch_class)


def look(table: ToneTable, search: Search) -> Looked:
    """Hold a whole table against all that takes no assignment."""
    wish = search.wish
    count = len(table.records)
    near, broken = np.zeros(count, np.int8), np.zeros(count, np.int16)
    for pitch in wish.wanted:
        near += _has_near(table, wish, pitch)
    widths = [_nearest_width(table, wish, wide) for wide in wish.intervals]
    for mask in (*_facts(table, wish), *_sounds(table, wish, near), *(w == FAR for w in widths)):
        broken += mask
    if wish.avoid:
        broken += _avoided(table, wish)
    connecting = None
    if search.home is not None:
        connecting, cut_off = _connecting(table, search, search.home)
        broken += cut_off
    near[table.alone], broken[table.alone] = len(wish.wanted), 0
    return Looked(broken, near, widths, connecting)


def _facts(table: ToneTable, wish: Wish) -> Iterator[Mask]:
    """Yield, for each wish that is a fact of the record, which rows break it."""
    if wish.saxophones:
        wished = [family_place(member) for member in wish.saxophones]
        yield np.logical_and.reduce([table.saxophones != place for place in wished])
    if wish.evidence is not None:
        yield table.evidence < tuple(Evidence).index(wish.evidence)
    if wish.dynamic is not None:
        level = wish.dynamic.level
        softest, loudest = table.dynamics
        yield ((softest > level) | (loudest < level)) & (softest != UNKNOWN)
    if wish.asks_for_speed:
        speeds = table.speeds(wish.articulation, wish.dynamic)
        yield (speeds.ranks < speeds.first_rank(wish.speed)) & (speeds.ranks != UNKNOWN)


def _sounds(table: ToneTable, wish: Wish, near: NDArray[np.int8]) -> Iterator[Mask]:
    """Yield, for each wish about the tones that are heard, which rows break it."""
    heard = table.heard(wish.dynamic, written=wish.written)
    if wish.pitches:
        yield near == 0
    if wish.emphasised is not None:
        yield ~_has_near(table, wish, wish.emphasised)
    if wish.tone_count is not None:
        yield heard.count != wish.tone_count
    for pitch, heights in zip((wish.lowest, wish.highest), heard.outer, strict=True):
        if pitch is not None:
            gap = from_outer(heights, pitch, wish)
            yield (gap > units(wish.within_cents)) & (heard.count > 0)


def from_outer(heights: Heights, pitch: Pitch, wish: Wish) -> Heights:
    """Return how far lowest or highest tones lie from the wished one."""
    placed = heights % OCTAVE if wish.pitch_class else heights
    return away(placed, units(pitch.cents), by_class=wish.pitch_class)


def _has_near(table: ToneTable, wish: Wish, pitch: Pitch) -> Mask:
    """Tell which rows have a tone within the tolerance."""
    tones = table.heard(wish.dynamic, written=wish.written).by_height
    some = np.zeros(len(table.records), np.bool_)
    octave = OCTAVE if wish.pitch_class else None
    for rows in tones.rows_near(units(pitch.cents), units(wish.within_cents), octave):
        some[rows] = True
    return some


def near_tones(table: ToneTable, wish: Wish, rows: Rows) -> Codes:
    """Count the tones that lie near to any wished pitch in some rows."""
    heard = table.heard(wish.dynamic, written=wish.written)
    every = heard.classes if wish.pitch_class else heard.heights
    count = np.empty(len(rows), np.int8)
    for at in range(0, len(rows), BLOCK):
        heights = every.take(rows[at : at + BLOCK], axis=1)
        near = np.zeros(heights.shape, np.bool_)
        for low, high in _windows(wish):
            # What lies below becomes very great where there is no sign.
            near |= (heights - np.int32(low)).view(np.uint32) <= np.uint32(high - low)
        near.sum(axis=0, dtype=np.int8, out=count[at : at + BLOCK])
    return count


def _windows(wish: Wish) -> list[tuple[int, int]]:
    """Return from where to where tones are near to a wished pitch, joined where they overlap.

    For pitch classes, these are parts of the octave.
    """
    within = units(wish.within_cents)
    heights = [units(pitch.cents) for pitch in wish.wanted]
    if wish.pitch_class:
        shifts = (-OCTAVE, 0, OCTAVE)
        heights = [height % OCTAVE + shift for height, shift in product(heights, shifts)]
    spans = [(height - within, height + within) for height in heights]
    joined: list[tuple[int, int]] = []
    for low, high in sorted(spans):
        if joined and low <= joined[-1][1]:
            joined[-1] = joined[-1][0], max(high, joined[-1][1])
        else:
            joined.append((low, high))
    return joined


def _nearest_width(table: ToneTable, wish: Wish, semitones: Fraction) -> Heights:
    """Return how far the nearest two tones are from an interval, FAR beyond the tolerance."""
    widths = table.heard(wish.dynamic, written=wish.written).by_width
    nearest = np.full(len(table.records), FAR, np.int32)
    octave = OCTAVE if wish.pitch_class else None
    for rows, gaps in widths.near(units(100 * semitones), units(wish.within_cents), octave):
        np.minimum.at(nearest, rows, gaps)
    return nearest


def _avoided(table: ToneTable, wish: Wish) -> NDArray[np.int16]:
    """Count the tones that lie near to pitches that are to be avoided."""
    tones = table.heard(wish.dynamic, written=False).by_height
    count = np.zeros(len(table.records), np.int16)
    for pitch in wish.avoid:
        for rows in tones.rows_near(units(pitch.cents), units(wish.avoid_within_cents)):
            np.add.at(count, rows, np.int16(1))
    return count


def _connecting(table: ToneTable, search: Search, home: Sonority) -> tuple[NDArray[np.int32], Mask]:
    """Return what connecting to a sonority costs, and which rows do not connect."""
    cost, cut_off = np.zeros(len(table.records), np.int32), np.ones(len(table.records), np.bool_)
    rows, fingers = table.fingers(home.saxophone)
    scores = fingers.scores(home.fingering)
    cost[rows], cut_off[rows] = scores + POINTS_OF_UNKNOWN_EMBOUCHURE, scores > MOST_MODERATE
    here = [(table.row_of[name], name) for name in search.documented if name in table.row_of]
    for row, name in here:
        if table.records[row].saxophone == home.saxophone:
            cost[row], cut_off[row] = POINTS_OF_DOCUMENTED[search.documented[name]], False
    if home.id in table.row_of:
        cost[table.row_of[home.id]], cut_off[table.row_of[home.id]] = 0, True
    return cost, cut_off

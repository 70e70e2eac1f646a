"""Sonorities whose tones lie nearer to what the other parts sound."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from reedchord.choosing.judging import Judged, judge
from reedchord.choosing.search import find
from reedchord.choosing.search_conditions import search_in
from reedchord.choosing.search_wish import MOST_TONES, Wish
from reedchord.collection import Collection
from reedchord.ensemble.ensemble import Ensemble, TunedPlacement
from reedchord.pitch import CENTS_PER_OCTAVE, Pitch

MOST_SHOWN = 3
_OCTAVES = {"octave": 1, "two octaves": 2}


@dataclass(frozen=True)
class Remedy:
    """A sonority that meets the same pitches of the others better than the one that is there.

    `now` is the present sonority held against the same pitches.
    """

    instead: Judged
    now: Judged

    @property
    def cents(self) -> float:
        """Cents by which the tones that meet those pitches miss them, on the average."""
        return mean_cents(self.instead)


def mean_cents(judged: Judged) -> float:
    """Return the mean of the cents between wished pitches and the tones that meet them."""
    return float(sum(abs(met.cents) for met in judged.met)) / max(1, len(judged.met))


def remedies(found: Ensemble, collection: Collection) -> dict[int, tuple[Remedy, ...]]:
    """Return better sonorities of the same saxophone by the number of a placement, best first.

    Each placement is a search with the pitches of the other parts that lie near a tone in
    unison or octaves, moved to the tone's octave, and with its emphasised tone.
    """
    return {one.placement.row.number: tuple(_remedies(one, collection)) for one in found.placements}


def _remedies(one: TunedPlacement, collection: Collection) -> Iterator[Remedy]:
    pitches = _pitches_of_others(one)
    present = one.placement.sonority
    if not pitches:
        return
    wish = Wish(pitches=pitches, saxophones=(present.saxophone,))
    now = judge(search_in(collection, wish), present)
    better = [
        Remedy(judged, now)
        for judged in find(collection, wish).fitting
        if judged.sonority.id != present.id
        and len(judged.met) >= len(now.met)
        and mean_cents(judged) < mean_cents(now)
    ]
    yield from better[:MOST_SHOWN]


def _pitches_of_others(one: TunedPlacement) -> tuple[Pitch, ...]:
    """Return what the tones would have to be so that they do not beat, the nearest for each."""
    row, sonority = one.placement.row, one.placement.sonority
    nearest: dict[int, tuple[float, Pitch]] = {}
    for pair in one.pairs:
        tone, cents = pair.tone.tone, abs(pair.beating.cents)
        octaves = _OCTAVES.get(pair.beating.interval.name, 0)
        if tone is None or not (octaves or pair.beating.interval.name == "unison"):
            continue
        if tone not in nearest or cents < nearest[tone][0]:
            is_above = pair.other.concert.cents > pair.tone.concert.cents
            pitch = _moved(pair.other.concert, -octaves if is_above else octaves)
            nearest[tone] = cents, pitch
    if nearest and row.emphasised is not None and row.emphasised not in nearest:
        nearest[row.emphasised] = 0.0, sonority.concert(row.emphasised)
    unique: dict[Fraction, Pitch] = {pitch.cents: pitch for _, pitch in nearest.values()}
    return tuple(sorted(unique.values(), key=lambda pitch: pitch.cents)[:MOST_TONES])


def _moved(pitch: Pitch, octaves: int) -> Pitch:
    return pitch.transposed(semitones=octaves * CENTS_PER_OCTAVE // 100, steps=7 * octaves)

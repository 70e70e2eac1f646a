"""Partials: lines in the spectra of a take, followed in time, with how certain they are."""

from __future__ import annotations

import math
from dataclasses import dataclass
from operator import attrgetter

import numpy as np

from reedchord.acoustics.peaks import Peak, blocks, peaks
from reedchord.acoustics.spectrum import CENTS_A_NEPER, Reals, Spectra

FAINTEST_BELOW_DB = 60.0
"""Lines so far below the strongest are nobody's concern."""
_LINK_CENTS, _LINK_HZ = 35.0, 5.0
"""How far a line may move from block to block, a third of a second."""
_RESUMED_CENTS, _RESUMED_HZ = 12.0, 3.0
_LEAST_UNCERTAINTY_CENTS = 0.2


@dataclass(frozen=True)
class Partial:
    """One line: frequency in Hz, level in dB against a full-scale sine, dB above the noise.

    `uncertainty_cents` is one standard deviation of the mean, `wander_cents` the standard
    deviation over time. `heights_cents` (above 1 Hz) and `powers` have an entry for each frame.
    """

    frequency_hz: float
    uncertainty_cents: float
    wander_cents: float
    level_db: float
    above_noise_db: float
    heights_cents: Reals
    powers: Reals

    @property
    def height_cents(self) -> float:
        """Mean height in cents above 1 Hz."""
        return 1200 * float(np.log2(self.frequency_hz))


Chain = dict[int, Peak]
"""A line as its peaks by number of the block."""


def find_partials(found: Spectra) -> tuple[Partial, ...]:
    """Return every line that stands out of the noise, strongest first."""
    spans = blocks(len(found.power))
    rows = _loud_enough([peaks(found, *span) for span in spans])
    chains = _resumed(_linked(rows))
    if len(spans) > 1:
        chains += _only_in_the_whole(peaks(found, 0, len(found.power)), chains)
    partials = _partials(found, chains, np.array([sum(span) / 2 for span in spans]))
    return tuple(sorted(partials, key=lambda one: -one.level_db))


def _loud_enough(rows: list[list[Peak]]) -> list[list[Peak]]:
    loudest = max((peak.power for row in rows for peak in row), default=0.0)
    least = loudest * 10 ** (-FAINTEST_BELOW_DB / 10)
    return [[peak for peak in row if peak.power >= least] for row in rows]


def _linked(rows: list[list[Peak]]) -> list[Chain]:
    """Link each peak with one of the next block, the nearest pairs first."""
    chains: list[Chain] = []
    ends: list[Chain] = []
    for number, row in enumerate(rows):
        before = np.array([chain[number - 1].frequency_hz for chain in ends])
        now = np.array([peak.frequency_hz for peak in row])
        linked = {one: ends[other] for other, one in _nearest_pairs(before, now)}
        ends = [linked.get(one, {}) for one in range(len(row))]
        chains += [ends[one] for one in range(len(row)) if one not in linked]
        for chain, peak in zip(ends, row, strict=True):
            chain[number] = peak
    return chains


def _nearest_pairs(before_hz: Reals, now_hz: Reals) -> list[tuple[int, int]]:
    """Pair off what lies within reach, the nearest first, each once."""
    away = np.abs(before_hz[:, None] - now_hz[None, :])
    reach = np.maximum(_LINK_HZ, now_hz * _LINK_CENTS / CENTS_A_NEPER)
    olds, news = np.nonzero(away <= reach)
    order = np.argsort(away[olds, news] / now_hz[news])
    pairs: dict[int, int] = {}
    taken: set[int] = set()
    for old, new in zip(olds[order].tolist(), news[order].tolist(), strict=True):
        if old not in pairs and new not in taken:
            pairs[old] = new
            taken.add(new)
    return list(pairs.items())


def _resumed(chains: list[Chain]) -> list[Chain]:
    """Draw together lines that stop and come again at the same height."""
    whole: list[Chain] = []
    heights_hz = np.empty(len(chains))
    strongest = [(_strongest(chain), chain) for chain in chains]
    for peak, chain in sorted(strongest, key=lambda pair: -pair[0].power):
        hz = peak.frequency_hz
        reach = max(_RESUMED_HZ, hz * _RESUMED_CENTS / CENTS_A_NEPER)
        near = np.flatnonzero(np.abs(heights_hz[: len(whole)] - hz) <= reach).tolist()
        same = next((k for k in near if not whole[k].keys() & chain), None)
        if same is None:
            heights_hz[len(whole)] = hz
            whole.append(dict(chain))
        else:
            whole[same].update(chain)
    return whole


def _strongest(chain: Chain) -> Peak:
    return max(chain.values(), key=attrgetter("power"))


def _only_in_the_whole(row: list[Peak], chains: list[Chain]) -> list[Chain]:
    """Return as chains what only the mean over all frames lifts out of the noise."""
    known = sorted(peak.frequency_hz for chain in chains for peak in chain.values())
    known_hz, hz = np.array([0.0, *known, np.inf]), np.array([peak.frequency_hz for peak in row])
    above = np.searchsorted(known_hz[1:], hz) + 1
    away = np.minimum(known_hz[above] - hz, hz - known_hz[above - 1])
    is_far = away > np.maximum(_LINK_HZ, hz * _LINK_CENTS / CENTS_A_NEPER)
    return [{-1: peak} for peak, far in zip(row, is_far.tolist(), strict=True) if far]


def _partials(found: Spectra, chains: list[Chain], middles: Reals) -> list[Partial]:
    if not chains:
        return []
    frames = np.arange(len(found.power))
    rough_hz = np.empty((len(chains), len(frames)))
    for row, chain in enumerate(chains):
        numbers = sorted(chain)
        hz = [chain[number].frequency_hz for number in numbers]
        rough_hz[row] = np.interp(frames, middles[numbers], hz) if len(numbers) > 1 else hz[0]
    heights, powers = _followed(found, rough_hz)
    total = np.maximum(np.sum(powers, axis=1), 1e-30)
    means = np.sum(powers * heights, axis=1) / total
    wander = np.sqrt(np.sum(powers * (heights - means[:, None]) ** 2, axis=1) / total)
    looks = np.maximum(1.0, total**2 / np.maximum(np.sum(powers**2, axis=1), 1e-60) / 3)
    unsure = np.maximum(_LEAST_UNCERTAINTY_CENTS, wander / np.sqrt(looks))
    return [
        Partial(
            2 ** (float(means[row]) / 1200),
            float(unsure[row]),
            float(wander[row]),
            10 * math.log10(_strongest(chain).power),
            10 * math.log10(max(peak.above for peak in chain.values())),
            heights[row],
            powers[row],
        )
        for row, chain in enumerate(chains)
    ]


def _followed(found: Spectra, rough_hz: Reals) -> tuple[Reals, Reals]:
    """Return heights in cents above 1 Hz and powers of lines, frame by frame.

    The height is the advance of phase over two hops, half a window, where the noise of both
    frames is nearly independent; the rough frequency tells how many turns.
    """
    columns = np.rint((rough_hz - found.frequencies_hz[0]) / found.bin_hz).astype(np.int64)
    columns = np.clip(columns, 1, found.power.shape[1] - 2)
    frames = np.arange(len(found.power))
    earlier, later = np.maximum(frames - 1, 0), np.minimum(frames + 1, frames[-1])
    lag_seconds = np.maximum(later - earlier, 1) * found.hop_seconds
    product = np.zeros(columns.shape, dtype=np.complex128)
    power = np.zeros(columns.shape)
    for side in (-1, 0, 1):
        before, after = found.frames[earlier, columns + side], found.frames[later, columns + side]
        product += after.astype(np.complex128) * np.conj(before)
        power = np.maximum(power, found.power[frames, columns + side])
    turns = np.angle(product) / (2 * np.pi)
    hz = (turns + np.rint(rough_hz * lag_seconds - turns)) / lag_seconds
    heights = 1200 * np.log2(np.maximum(hz, 1.0))
    return heights, np.minimum(power, np.abs(product))

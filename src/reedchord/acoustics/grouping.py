"""Partials that move like the harmonics of one tone, drawn together: a proposal, no finding."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from reedchord.acoustics.partials import Partial
from reedchord.acoustics.spectrum import Reals

HARMONICS = 40
"""A low tone has that many; with fewer it falls into several "tones"."""
LOWEST_FUNDAMENTAL_HZ = 45.0
_TOLERANCE_CENTS = np.array([10.0, 4.0] + [2.0] * (HARMONICS - 2))
"""How far the first, the second and the later harmonics may lie off, beside what is uncertain."""
_FUNDAMENTAL_BELOW_DB = 32.0
_GAP_COSTS = 0.9
_UNEVEN_DB = 14.0
"""So much weaker than its neighbours may a harmonic be at no cost."""
_BETWEEN_BELOW_DB = 11.0
_STRONGEST, _PARTS = 8, 12
_CANDIDATES = 60
_HEARD_DB = 40.0
"""Lines so far below the strongest weigh next to nothing."""
_UNSURE_BY = 1.5
"""What lines disturb in each other is more than their own scatter tells."""
_LEAST_SCORE = 15.0
_INTERVALS_CENTS = 1200 * np.log2(np.arange(1, HARMONICS + 1))
_NONE = -1
_UNSURE_AT_MOST_CENTS = 2.0
"""A line however unsure may not lie anywhere."""


@dataclass(frozen=True)
class HarmonicGroup:
    """Partials of one proposed tone: (harmonic number, index of the partial) pairs.

    `heights_cents` (above 1 Hz) and `powers` have an entry for each frame; `uncertainty_cents`
    is one standard deviation of the mean.
    """

    frequency_hz: float
    uncertainty_cents: float
    wander_cents: float
    members: tuple[tuple[int, int], ...]
    score: float
    heights_cents: Reals
    powers: Reals


@dataclass(frozen=True)
class _Lines:
    """The partials as arrays, one row each."""

    heights: Reals
    powers: Reals
    shares: Reals
    uncertainty: Reals
    weights: Reals
    level_db: Reals


@dataclass(frozen=True)
class _Fits:
    """Harmonic numbers (0 for none) and misfits; a row for a fundamental, a column for a line."""

    numbers: NDArray[np.int64]
    misfit_cents: Reals


def group(partials: Sequence[Partial]) -> tuple[HarmonicGroup, ...]:
    """Return proposed tones, best supported first; every partial is in one at the most.

    Greedy: of all fundamentals that partials suggest, the one that explains most with the
    fewest gaps is taken, then again with what is left. Lines are compared where both sound,
    so that a tone that drifts keeps its harmonics.
    """
    if not partials:
        return ()
    lines = _lines(partials)
    fits = _candidates(lines)
    free = np.ones(len(partials), dtype=bool)
    groups = []
    while np.any(free):
        rows = _rows(lines, fits, free)
        scores = _scores(lines, rows)
        best = int(np.argmax(scores))
        if scores[best] <= _LEAST_SCORE:
            break
        made = _group(lines, _once_more(lines, rows[best], free), float(scores[best]))
        groups.append(made)
        free[[index for _, index in made.members]] = False
    return tuple(groups)


def _lines(partials: Sequence[Partial]) -> _Lines:
    powers = np.array([one.powers for one in partials])
    level_db = np.array([one.level_db for one in partials])
    level_db -= np.max(level_db)
    return _Lines(
        np.array([one.heights_cents for one in partials]),
        powers,
        powers / np.maximum(np.max(powers, axis=1, keepdims=True), 1e-30),
        np.array([one.uncertainty_cents for one in partials]),
        np.minimum([one.above_noise_db for one in partials], np.maximum(_HEARD_DB + level_db, 0.5)),
        level_db,
    )


def _candidates(lines: _Lines) -> _Fits:
    """Return what each strong partial as fundamental, or the strongest as harmonics, suggest."""
    # Products so small are slower when a matrix library shares them among threads.
    together = np.einsum("it,jt->ij", lines.shares, lines.shares) + 1e-12
    mixed = np.einsum("it,jt->ij", lines.shares * lines.heights, lines.shares)
    apart = (mixed - mixed.T) / together
    own = np.sum(lines.powers * lines.heights, axis=1) / np.sum(lines.powers, axis=1)
    ranked = np.argsort(-lines.level_db)
    parts = np.tile(np.arange(1, _PARTS + 1), _STRONGEST)[: _PARTS * len(ranked)]
    bases = np.concatenate([np.repeat(ranked[:_STRONGEST], _PARTS), ranked[_STRONGEST:_CANDIDATES]])
    below = np.zeros(len(bases))
    below[: len(parts)] = 1200 * np.log2(parts)
    possible = own[bases] - below >= 1200 * np.log2(LOWEST_FUNDAMENTAL_HZ)
    bases, below = bases[possible], below[possible]
    return _fitted(apart[:, bases].T + below[:, None], lines, lines.uncertainty[bases])


def _fitted(above_cents: Reals, lines: _Lines, own_uncertainty: Reals) -> _Fits:
    """Give each partial the harmonic number that fits, 0 where none does, for each fundamental."""
    numbers = np.rint(2 ** (above_cents / 1200)).astype(np.int64)
    within_reach = (numbers >= 1) & (numbers <= HARMONICS)
    numbers = np.where(within_reach, numbers, 1)
    misfit = np.abs(above_cents - _INTERVALS_CENTS[numbers - 1])
    own, others = (
        np.minimum(own_uncertainty, _UNSURE_AT_MOST_CENTS)[:, None],
        np.minimum(lines.uncertainty, _UNSURE_AT_MOST_CENTS),
    )
    allowed = np.hypot(_TOLERANCE_CENTS[numbers - 1], 2.5 * np.hypot(own, others))
    return _Fits(np.where(within_reach & (misfit <= allowed), numbers, 0), misfit)


def _rows(lines: _Lines, fits: _Fits, free: NDArray[np.bool_]) -> NDArray[np.int64]:
    """Return, for each fundamental, the partial of each harmonic from the first on, -1 for none.

    Of several that fit, the strong and near one is taken: the last that is written stays.
    """
    rows = np.full((len(fits.numbers), HARMONICS), _NONE)
    fundamentals, chosen = np.nonzero((fits.numbers > 0) & free)
    merit = lines.level_db[chosen] - 3 * fits.misfit_cents[fundamentals, chosen]
    order = np.argsort(merit)
    fundamentals, chosen = fundamentals[order], chosen[order]
    rows[fundamentals, fits.numbers[fundamentals, chosen] - 1] = chosen
    return rows


def _scores(lines: _Lines, rows: NDArray[np.int64]) -> Reals:
    """Return the weight of what is explained less that of gaps that should not be there."""
    there = rows != _NONE
    weight = np.where(there, lines.weights[rows], 0.0)
    padded = np.pad(weight, ((0, 0), (2, 2)))
    padded[:, :2] = weight[:, :1]
    below = np.maximum(padded[:, :-4], padded[:, 1:-3])
    above = np.maximum(padded[:, 3:-1], padded[:, 4:])
    expected = np.minimum(below, above)
    expected[:, 0] = np.max(weight[:, 1:3], axis=1)
    gaps = np.maximum(0.0, expected - weight - np.where(there, _UNEVEN_DB, 0.0))
    scores = np.sum(weight, axis=1) - _GAP_COSTS * np.sum(gaps, axis=1)
    possible = _have_fundamentals(lines, rows, there) & (_outshining(lines, rows) == 1)
    return np.where(possible, scores, 0.0)


def _have_fundamentals(
    lines: _Lines, rows: NDArray[np.int64], there: NDArray[np.bool_]
) -> NDArray[np.bool_]:
    """Tell where there is a fundamental, weak as it may be, or harmonics nearly without a gap."""
    levels = np.where(there, lines.level_db[rows], -np.inf)
    weak = np.max(levels, axis=1) - _FUNDAMENTAL_BELOW_DB
    low = there[:, 1:8]
    lined_up = np.any(low[:, 1:] & low[:, :-1], axis=1)
    without = (np.sum(there, axis=1) >= 5) & (np.sum(low, axis=1) >= 4) & lined_up
    return np.asarray(np.where(there[:, 0], levels[:, 0] >= weak, without), dtype=np.bool_)


def _outshining(lines: _Lines, rows: NDArray[np.int64]) -> NDArray[np.int64]:
    """Return 2 or 3 where every second or third harmonic outshines all between, else 1.

    Then that one is the tone, and what lies between is the room, the reed or chance.
    """
    power = np.where(rows != _NONE, 10 ** (lines.level_db[rows] / 10), 0.0)
    whole = np.sum(power, axis=1)
    least = whole * 10 ** (-_BETWEEN_BELOW_DB / 10)
    second, third = (whole - np.sum(power[:, part - 1 :: part], axis=1) for part in (2, 3))
    return np.select([second < least, third < least], [2, 3], 1)


def _track(lines: _Lines, rows: NDArray[np.int64]) -> tuple[Reals, Reals, Reals]:
    """Return heights of the fundamental by frame, as its harmonics tell, and their weights."""
    numbers = np.flatnonzero(rows != _NONE)
    chosen = rows[numbers]
    own = lines.heights[chosen] - _INTERVALS_CENTS[numbers][:, None]
    sure = lines.shares[chosen] / (lines.uncertainty[chosen] ** 2 + 0.3**2)[:, None]
    total = np.sum(sure, axis=0) + 1e-12
    return np.sum(sure * own, axis=0) / total, total, np.asarray(own)


def _once_more(
    lines: _Lines, rows: NDArray[np.int64], free: NDArray[np.bool_]
) -> NDArray[np.int64]:
    """Match again against the track that all harmonics together give, which is surer."""
    track, weights, _ = _track(lines, rows)
    shared = lines.shares * weights
    apart = np.sum(shared * (lines.heights - track), axis=1) / (np.sum(shared, axis=1) + 1e-12)
    again = _rows(lines, _fitted(apart[None], lines, np.zeros(1)), free)
    if np.all(again == _NONE):
        return rows
    part = int(_outshining(lines, again)[0])
    every = again[0, part - 1 :: part]
    return np.concatenate([every, np.full(HARMONICS - len(every), _NONE)])


def _group(lines: _Lines, rows: NDArray[np.int64], score: float) -> HarmonicGroup:
    numbers = np.flatnonzero(rows != _NONE)
    chosen = rows[numbers]
    track, _, own = _track(lines, rows)
    powers = np.sum(lines.powers[chosen], axis=0)
    height = float(np.sum(powers * track) / np.sum(powers))
    means = np.sum(lines.powers[chosen] * (own - track), axis=1) / np.sum(
        lines.powers[chosen], axis=1
    )
    sure = 1 / (lines.uncertainty[chosen] ** 2 + 0.3**2)
    scatter = max(1.0, float(np.sum(sure * means**2)) / max(1, len(chosen) - 1))
    return HarmonicGroup(
        float(2 ** (height / 1200)),
        _UNSURE_BY * float((scatter / np.sum(sure)) ** 0.5),
        float((np.sum(powers * (track - height) ** 2) / np.sum(powers)) ** 0.5),
        tuple(zip((numbers + 1).tolist(), chosen.tolist(), strict=True)),
        score,
        track,
        powers,
    )

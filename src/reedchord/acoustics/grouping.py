"""Partials that move like the harmonics of one tone, drawn together: a proposal, no finding."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from reedchord.acoustics.covering import covered, is_within_swing
from reedchord.acoustics.following import Followed
from reedchord.acoustics.partials import Partial
from reedchord.acoustics.spectrum import CENTS_A_NEPER, Reals, Spectra
from reedchord.acoustics.together import follow

HARMONICS = 40
"""A low tone has that many; with fewer it falls into several "tones"."""
LOWEST_FUNDAMENTAL_HZ = 45.0
_TOLERANCE_CENTS = np.array([10.0, 4.0] + [2.0] * (HARMONICS - 2))
"""How far the first, the second and the later harmonics may lie off, beside what is uncertain."""
_FUNDAMENTAL_BELOW_DB = 32.0
"""No fundamental may be so far below its strongest harmonic."""
_GAP_COSTS = 0.9
"""So much of its weight costs a harmonic that should be there and is not."""
_UNEVEN_DB = 14.0
"""So much weaker than its neighbours may a harmonic be at no cost."""
_BETWEEN_BELOW_DB = 11.0
_PRIMES = (2, 3, 5)
_NEITHER_BELOW_DB = 17.0
_OF_NEITHER = np.array(
    [
        [number % one and number % other for number in range(1, HARMONICS + 1)]
        for one, other in ((2, 3), (2, 5), (2, 7), (3, 4), (3, 5), (3, 7), (4, 5))
    ],
    dtype=np.bool_,
)
"""Which harmonics are multiples of neither of two numbers, for pairs of low ones."""
_STRONGEST, _PARTS = 8, 12
_CANDIDATES = 60
_HEARD_DB = 40.0
"""Lines so far below the strongest weigh next to nothing."""
LEAST_SCORE = 24.0
FAINTEST_BELOW_DB = 27.0
SHORTEST_SECONDS = 0.4
_SHORTEST_SHARE = 0.4
"""What is shorter, and shorter than that share of the longest tone, belongs to the attack."""
_HELD = 0.05
"""Share of the power of the loudest moment: 13 dB below it."""
_TELLING, _SOUNDS_FROM = 5, 0.01
"""How many partials tell whether a tone sounds, and from which share of their own loudest on."""
_NEAR_FRAMES = 3
_NEAR = 2 * _NEAR_FRAMES + 1
_BESIDE_CENTS, _BESIDE_DB = 60.0, 12.0
"""Within so many cents of a line that is so much stronger, one or two lines are no tone."""
_INTERVALS_CENTS = 1200 * np.log2(np.arange(1, HARMONICS + 1))
_NONE = -1
_UNSURE_AT_MOST_CENTS = 2.0
"""A line however unsure may not lie anywhere."""


@dataclass(frozen=True)
class HarmonicGroup:
    """Partials of one proposed tone: (harmonic number, index of the partial) pairs."""

    followed: Followed
    members: tuple[tuple[int, int], ...]
    score: float

    @property
    def frequency_hz(self) -> float:
        """Mean frequency while it is held."""
        return self.followed.frequency_hz


@dataclass(frozen=True)
class _Lines:
    """The partials as arrays, one row each."""

    hz: Reals
    heights: Reals
    powers: Reals
    shares: Reals
    uncertainty: Reals
    weights: Reals
    level_db: Reals


@dataclass(frozen=True)
class _Fits:
    """Harmonic numbers (0 for none) and misfits; a row for a fundamental, a column for a line."""

    base_hz: Reals
    numbers: NDArray[np.int64]
    misfit_cents: Reals

    def __len__(self) -> int:
        return len(self.base_hz)


def group(partials: Sequence[Partial], found: Spectra) -> tuple[HarmonicGroup, ...]:
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
    groups: list[HarmonicGroup] = []
    taken: list[int] = []
    longest = 0
    while len(fits := _worthwhile(lines, fits, free)):
        rows = _rows(lines, fits, free)
        scores = _scores(lines, rows, _merged(fits, lines, taken, found.lobe_hz))
        best = int(np.argmax(scores))
        if scores[best] < LEAST_SCORE:
            break
        members = _members(_once_more(lines, rows[best], free))
        own = [index for _, index in members]
        free[own] = False
        level_db = 10 * float(np.log10(np.sum(10 ** (lines.level_db[own] / 10))))
        frames = _held_frames(np.sum(lines.powers[own], axis=0))
        longest = max(longest, frames)
        if (
            level_db < -FAINTEST_BELOW_DB
            or frames < min(_SHORTEST_SHARE * longest, SHORTEST_SECONDS / found.hop_seconds)
            or (len(own) <= 2 and _is_beside(lines, own, level_db))
        ):
            continue
        others = [one.followed for one in groups]
        height_hz = _height_hz(lines, members)
        if any(is_within_swing(one, height_hz) for one in others):
            continue
        sounds = _sounds(lines, own)
        followed = follow(found, height_hz, sounds, others)
        made = HarmonicGroup(followed, members, float(scores[best]))
        higher = _higher(lines, made.frequency_hz, free)
        groups.append(replace(made, members=members + higher))
        taken += own + [index for _, index in higher]
        free[taken] = False
        free &= ~covered(found, made.followed, members, lines.hz, lines.level_db)
    return tuple(groups)


def _lines(partials: Sequence[Partial]) -> _Lines:
    powers = np.array([one.powers for one in partials])
    level_db = np.array([one.level_db for one in partials])
    level_db -= np.max(level_db)
    return _Lines(
        np.array([one.frequency_hz for one in partials]),
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
    strongest, others = ranked[:_STRONGEST], ranked[_STRONGEST:_CANDIDATES]
    parts = [np.tile(np.arange(1, _PARTS + 1), len(strongest)), np.tile([1, 2], len(others))]
    bases = np.concatenate([np.repeat(strongest, _PARTS), np.repeat(others, 2)])
    below = 1200 * np.log2(np.concatenate(parts))
    possible = own[bases] - below >= 1200 * np.log2(LOWEST_FUNDAMENTAL_HZ)
    bases, below = bases[possible], below[possible]
    return _fitted(
        2 ** ((own[bases] - below) / 1200),
        apart[:, bases].T + below[:, None],
        lines,
        lines.uncertainty[bases],
    )


def _fitted(base_hz: Reals, above_cents: Reals, lines: _Lines, own_uncertainty: Reals) -> _Fits:
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
    return _Fits(base_hz, np.where(within_reach & (misfit <= allowed), numbers, 0), misfit)


def _worthwhile(lines: _Lines, fits: _Fits, free: NDArray[np.bool_]) -> _Fits:
    """Return the fundamentals that could reach the least score with all that is free."""
    most = np.einsum("ij,j->i", fits.numbers > 0, lines.weights * free)
    worth = most >= LEAST_SCORE
    return _Fits(fits.base_hz[worth], fits.numbers[worth], fits.misfit_cents[worth])


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


def _merged(fits: _Fits, lines: _Lines, taken: list[int], lobe_hz: float) -> NDArray[np.int64]:
    """Return, as rows, the partials of other tones in which harmonics would be contained."""
    merged = np.full((len(fits.base_hz), HARMONICS), _NONE)
    if not taken:
        return merged
    order = np.array(taken)[np.argsort(lines.hz[taken])]
    harmonics_hz = fits.base_hz[:, None] * np.arange(1, HARMONICS + 1)
    middles_hz = (lines.hz[order][1:] + lines.hz[order][:-1]) / 2
    nearest = order[np.searchsorted(middles_hz, harmonics_hz)]
    return np.where(np.abs(lines.hz[nearest] - harmonics_hz) < lobe_hz, nearest, merged)


def _scores(lines: _Lines, rows: NDArray[np.int64], merged: NDArray[np.int64]) -> Reals:
    """Return the weight of what is explained less that of gaps that should not be there.

    What is merged with another tone's harmonic is no gap.
    """
    there = rows != _NONE
    weight = np.where(there, lines.weights[rows], 0.0)
    padded = np.pad(weight, ((0, 0), (2, 2)))
    padded[:, :2] = weight[:, :1]
    below = np.maximum(padded[:, :-4], padded[:, 1:-3])
    above = np.maximum(padded[:, 3:-1], padded[:, 4:])
    expected = np.minimum(below, above)
    expected[:, 0] = np.max(weight[:, 1:3], axis=1)
    gaps = np.maximum(0.0, expected - weight - np.where(there, _UNEVEN_DB, 0.0))
    scores = np.sum(weight, axis=1) - _GAP_COSTS * np.sum(gaps * (merged == _NONE), axis=1)
    whole = np.where(there, rows, merged)
    is_one = (_outshining(lines, rows) == 1) & ~_are_two(lines, whole)
    return np.where(_have_fundamentals(lines, whole) & is_one, scores, 0.0)


def _have_fundamentals(lines: _Lines, rows: NDArray[np.int64]) -> NDArray[np.bool_]:
    """Tell where there is a fundamental, weak as it may be, or harmonics nearly without a gap."""
    there = rows != _NONE
    levels = np.where(there, lines.level_db[rows], -np.inf)
    weak = np.max(levels, axis=1) - _FUNDAMENTAL_BELOW_DB
    low = there[:, 1:8]
    lined_up = np.any(low[:, 1:] & low[:, :-1], axis=1)
    without = (np.sum(there, axis=1) >= 5) & (np.sum(low, axis=1) >= 4) & lined_up
    return np.asarray(np.where(there[:, 0], levels[:, 0] >= weak, without), dtype=np.bool_)


def _outshining(lines: _Lines, rows: NDArray[np.int64]) -> NDArray[np.int64]:
    """Return 2, 3 or 5 where every second, third or fifth harmonic outshines all between, else 1.

    Then that one is the tone, and what lies between is the room, the reed or chance.
    """
    power = np.where(rows != _NONE, 10 ** (lines.level_db[rows] / 10), 0.0)
    whole = np.sum(power, axis=1)
    least = whole * 10 ** (-_BETWEEN_BELOW_DB / 10)
    between = [whole - np.sum(power[:, part - 1 :: part], axis=1) for part in _PRIMES]
    return np.select([rest < least for rest in between], _PRIMES, 1)


def _are_two(lines: _Lines, rows: NDArray[np.int64]) -> NDArray[np.bool_]:
    """Tell where nothing sounds but multiples of two numbers: then these are two tones."""
    power = np.where(rows != _NONE, 10 ** (lines.level_db[rows] / 10), 0.0)
    between = power @ _OF_NEITHER.T
    least = np.sum(power, axis=1, keepdims=True) * 10 ** (-_NEITHER_BELOW_DB / 10)
    return np.asarray(np.any(between < least, axis=1), dtype=np.bool_)


def _track(lines: _Lines, rows: NDArray[np.int64]) -> tuple[Reals, Reals]:
    """Return heights of the fundamental by frame, as its harmonics tell, and their weights."""
    numbers = np.flatnonzero(rows != _NONE)
    chosen = rows[numbers]
    own = lines.heights[chosen] - _INTERVALS_CENTS[numbers][:, None]
    sure = lines.shares[chosen] / (lines.uncertainty[chosen] ** 2 + 0.3**2)[:, None]
    total = np.sum(sure, axis=0) + 1e-12
    return np.sum(sure * own, axis=0) / total, total


def _once_more(
    lines: _Lines, rows: NDArray[np.int64], free: NDArray[np.bool_]
) -> NDArray[np.int64]:
    """Match again against the track that all harmonics together give, which is surer."""
    track, weights = _track(lines, rows)
    shared = lines.shares * weights
    apart = np.sum(shared * (lines.heights - track), axis=1) / (np.sum(shared, axis=1) + 1e-12)
    again = _rows(lines, _fitted(np.zeros(1), apart[None], lines, np.zeros(1)), free)
    if np.all(again == _NONE):
        return rows
    part = int(_outshining(lines, again)[0])
    every = again[0, part - 1 :: part]
    return np.concatenate([every, np.full(HARMONICS - len(every), _NONE)])


def _held_frames(powers: Reals) -> int:
    """Return for how many frames a tone is no more than 13 dB below its own loudest moment."""
    return int(np.count_nonzero(powers > _HELD * np.max(powers)))


def _sounds(lines: _Lines, own: list[int]) -> NDArray[np.bool_]:
    """Tell the frames near which most of the strongest partials of a tone sound.

    Near, because a tone with vibrato leaves the lines of its partials and comes back. Where they
    sound one after the other, as in a slide, any of them tells.
    """
    strongest = sorted(own, key=lambda index: -float(lines.level_db[index]))[:_TELLING]
    sounds = np.median(lines.shares[strongest], axis=0) > _SOUNDS_FROM
    if not np.any(sounds):
        sounds = np.any(lines.shares[strongest] > _SOUNDS_FROM, axis=0)
    near = np.lib.stride_tricks.sliding_window_view(np.pad(sounds, _NEAR_FRAMES), _NEAR)
    return np.asarray(np.any(near, axis=1))


def _is_beside(lines: _Lines, own: list[int], level_db: float) -> bool:
    """Tell whether lines stand right beside a much stronger one, as unsteadiness makes them."""
    lowest = lines.hz[min(own, key=lambda index: float(lines.hz[index]))]
    is_near = np.abs(CENTS_A_NEPER * np.log(lines.hz / lowest)) < _BESIDE_CENTS
    is_near[own] = False
    return bool(np.any(lines.level_db[is_near] > level_db + _BESIDE_DB))


def _members(rows: NDArray[np.int64]) -> tuple[tuple[int, int], ...]:
    numbers = np.flatnonzero(rows != _NONE)
    return tuple(zip((numbers + 1).tolist(), rows[numbers].tolist(), strict=True))


def _higher(
    lines: _Lines, frequency_hz: float, free: NDArray[np.bool_]
) -> tuple[tuple[int, int], ...]:
    """Return as members the partials above those that tell a tone: a low one has more."""
    numbers = np.maximum(1, np.rint(lines.hz / frequency_hz)).astype(np.int64)
    misfit = np.abs(CENTS_A_NEPER * np.log(lines.hz / (numbers * frequency_hz)))
    allowed = np.hypot(
        _TOLERANCE_CENTS[-1], 2.5 * np.minimum(lines.uncertainty, _UNSURE_AT_MOST_CENTS)
    )
    own = np.flatnonzero(free & (numbers > HARMONICS) & (misfit <= allowed))
    return tuple(zip(numbers[own].tolist(), own.tolist(), strict=True))


def _height_hz(lines: _Lines, members: tuple[tuple[int, int], ...]) -> float:
    """Return the mean frequency of a fundamental as its harmonics tell it."""
    rows = np.full(HARMONICS, _NONE)
    rows[[number - 1 for number, _ in members]] = own = [index for _, index in members]
    powers = np.sum(lines.powers[own], axis=0)
    height = float(np.sum(powers * _track(lines, rows)[0]) / np.sum(powers))
    return float(2 ** (height / 1200))

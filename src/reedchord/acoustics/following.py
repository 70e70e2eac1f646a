"""Tones followed from frame to frame: where most of their harmonics agree."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from reedchord.acoustics.spectrum import CENTS_A_NEPER, Reals, Spectra

HIGHEST_FOLLOWED_HZ = 6000.0
_HARMONICS = 20
_FAR_DB = 20.0
"""So much weaker counts a peak at the end of the reach than one in the middle."""
_LEAST_REACH_LOBES, _MOST_REACH_SHARE = 0.4, 0.35
_LOCKED_CENTS, _LOCKED_HZ, _LOCKED_NOISY = 0.7, 0.5, 0.15
"""How far harmonics of one tone lie apart in a frame: by itself, and by noise over a window."""
_FAINT_DB, _USUAL = 45.0, 0.8
"""No trust is in what is so far below the strongest, each at the level it has in most frames."""
_WEAK_SHARE, _WEAK_TRUST = 0.03, 0.1
_ABOVE_NOISE = 4.0
_LEAST_TRUST = 0.01
_NEARNESS, _STRAY = -0.35, 2.5
"""How votes fall off with the distance, and from which distance on a harmonic has no say."""
_RANKED = 6
_JUMP_CENTS, _JUMP_STEPS = 15.0, 6.0
"""A jump of so many cents, and of so many usual steps of the tone, costs a frame's votes."""
_HELD_BELOW_DB, _LOUDEST_SHARE, _LEAST_FRAMES = 15.0, 0.1, 4
_EDGE_SECONDS = 0.14
"""Attack and release, which slide, tell nothing about the pitch that is held."""


@dataclass(frozen=True)
class Harmonics:
    """Harmonics of a tone, a row each, with a column for each frame.

    `heights_cents` are of the fundamental that each would have, above 1 Hz; `locked_cents` says
    how near to the others it lies where it belongs to them; `trust` goes from 0 to 1.
    """

    numbers: NDArray[np.int64]
    heights_cents: Reals
    powers: Reals
    locked_cents: Reals
    trust: Reals

    def only(self, rows: NDArray[np.bool_]) -> Harmonics:
        """Return some of them."""
        return Harmonics(
            self.numbers[rows],
            self.heights_cents[rows],
            self.powers[rows],
            self.locked_cents[rows],
            self.trust[rows],
        )

    def with_(self, other: Harmonics) -> Harmonics:
        """Return these and those of another look at the same tone."""
        return Harmonics(
            np.concatenate([self.numbers, other.numbers]),
            np.concatenate([self.heights_cents, other.heights_cents]),
            np.concatenate([self.powers, other.powers]),
            np.concatenate([self.locked_cents, other.locked_cents]),
            np.concatenate([self.trust, other.trust]),
        )

    def trusted(self, share: Reals) -> Harmonics:
        """Return them with so much of their trust."""
        return replace(self, trust=self.trust * share)


@dataclass(frozen=True)
class Agreement:
    """Where most harmonics agree: the fundamental in cents above 1 Hz, frame by frame.

    `cells` tell how much each harmonic has its say.
    """

    cents: Reals
    cells: Reals


@dataclass(frozen=True)
class Followed:
    """A tone through all frames; `held` weighs those in which it is held, 0 where it is not.

    `sounds` tells the frames in which its partials sound at all.
    """

    harmonics: Harmonics
    agreement: Agreement
    sounds: NDArray[np.bool_]
    course_cents: Reals
    held: Reals

    @property
    def height_cents(self) -> float:
        """Mean height above 1 Hz while it is held."""
        return float(np.sum(self.held * self.course_cents) / np.sum(self.held))

    @property
    def frequency_hz(self) -> float:
        """The same in Hz."""
        return float(2 ** (self.height_cents / 1200))

    @property
    def wander_cents(self) -> float:
        """Standard deviation over the time for which it is held."""
        squares = self.held * (self.course_cents - self.height_cents) ** 2
        return float(np.sqrt(np.sum(squares) / np.sum(self.held)))

    @property
    def steps_cents(self) -> Reals:
        """By how much it moves from each frame to the next while it is held."""
        on = self.held > 0
        return np.asarray(np.abs(np.diff(self.course_cents))[on[1:] & on[:-1]])


def harmonics_near(
    found: Spectra, course_cents: Reals, reach_cents: float, most: int = _HARMONICS
) -> Harmonics:
    """Return the strongest peak near each harmonic of a course, frame by frame."""
    base_hz = 2 ** (course_cents / 1200)
    middle_hz = float(np.median(base_hz))
    numbers = np.arange(1, most + 1)
    highest_hz = min(HIGHEST_FOLLOWED_HZ, float(found.frequencies_hz[-1]) - found.lobe_hz)
    numbers = numbers[(numbers == 1) | (numbers * middle_hz < highest_hz)]
    near_hz = np.maximum(
        _LEAST_REACH_LOBES * found.lobe_hz, numbers * middle_hz * reach_cents / CENTS_A_NEPER
    )
    reach_hz = np.minimum(near_hz, _MOST_REACH_SHARE * middle_hz)
    hz, powers, columns = _peaks_near(found, numbers[:, None] * base_hz, reach_hz)
    usual = _usual(powers)
    loudest = max(float(np.max(usual)), 1e-30)
    trust = np.clip(1 + 10 * np.log10(powers / loudest + 1e-12) / _FAINT_DB, 0.0, 1.0)
    trust *= np.where(powers > _WEAK_SHARE * usual, 1.0, _WEAK_TRUST)
    above = powers / found.noise[columns]
    trust *= np.clip(above / _ABOVE_NOISE - 1, 0.0, 1.0)
    noisy_hz = _LOCKED_NOISY / found.window_seconds / np.sqrt(np.maximum(above, 1.0))
    cents_a_hz = CENTS_A_NEPER / (numbers[:, None] * middle_hz)
    locked = np.hypot(_LOCKED_CENTS, cents_a_hz * np.hypot(_LOCKED_HZ, noisy_hz))
    return Harmonics(numbers, 1200 * np.log2(hz / numbers[:, None]), powers, locked, trust)


def _usual(powers: Reals) -> Reals:
    """Return the power that each harmonic exceeds in a fifth of the frames, as a column."""
    kth = int(_USUAL * (powers.shape[1] - 1))
    return np.asarray(np.partition(powers, kth, axis=1)[:, kth : kth + 1])


def _peaks_near(
    found: Spectra, rough_hz: Reals, reach_hz: Reals
) -> tuple[Reals, Reals, NDArray[np.int64]]:
    """Return frequencies and powers (0 for none) of the strongest peaks, and their columns.

    A row for each row of `rough_hz`, which has its own reach.
    """
    power, frames = found.power, np.arange(rough_hz.shape[1])
    middle = np.rint((rough_hz - found.frequencies_hz[0]) / found.bin_hz).astype(np.int64)
    reach = np.ceil(reach_hz / found.bin_hz).astype(np.int64)
    steps = np.arange(-np.max(reach) - 1, np.max(reach) + 2)
    columns = np.clip(middle[:, :, None] + steps, 1, power.shape[1] - 2)
    near = power[frames[:, None], columns]
    is_top = (near[:, :, 1:-1] >= near[:, :, :-2]) & (near[:, :, 1:-1] > near[:, :, 2:])
    away = steps[1:-1] / reach[:, None]
    allowed = np.where(np.abs(away) <= 1, 10 ** (-_FAR_DB / 10 * away**2), 0.0)
    merit = near[:, :, 1:-1] * is_top * allowed[:, None, :]
    best = np.argmax(merit, axis=2)[:, :, None]
    tops = np.take_along_axis(columns, best + 1, axis=2)[:, :, 0]
    left, top, right = (np.log(power[frames, tops + side] + 1e-30) for side in (-1, 0, 1))
    shift = np.clip(0.5 * (left - right) / np.minimum(left - 2 * top + right, -1e-9), -0.5, 0.5)
    hz = found.frequencies_hz[tops] + shift * found.bin_hz
    is_found = np.take_along_axis(merit, best, axis=2)[:, :, 0] > 0
    return hz, np.where(is_found, np.exp(top - 0.25 * (left - right) * shift), 0.0), tops


def agreement(harmonics: Harmonics, *, steadily: bool = True) -> Agreement:
    """Return where most harmonics lie together in each frame; strays have no say.

    All that lie near to a height vote for it, the surest most; the best height, `steadily` one
    that lies near those of the next frames, is drawn to the mean of its voters.
    """
    heights, locked = harmonics.heights_cents, harmonics.locked_cents
    frames = np.arange(heights.shape[1])
    apart = (heights[:, None, :] - heights[None, :, :]).astype(np.float32)
    squares = (locked**2).astype(np.float32)
    weights = harmonics.trust / locked
    near = np.exp(np.float32(_NEARNESS) * apart * apart / (squares[:, None] + squares[None]))
    votes = np.einsum("it,ijt->jt", weights.astype(np.float32), near).astype(np.float64)
    votes *= harmonics.trust > _LEAST_TRUST
    best = _steadiest(heights, votes) if steadily else np.argmax(votes, axis=0)
    cents = heights[best, frames]
    for _ in range(2):
        off = (heights - cents) / (_STRAY * locked)
        cells = weights / locked * np.maximum(0.0, 1 - off**2)
        total = np.sum(cells, axis=0)
        mean = np.sum(cells * heights, axis=0) / np.maximum(total, 1e-12)
        cents = np.where(total > 1e-9, mean, cents)
    return Agreement(cents, cells)


def _steadiest(heights: Reals, votes: Reals) -> NDArray[np.int64]:
    """Return the row of each frame that has many votes and lies near the next frames' rows.

    Dynamic programming over the rows with most votes.
    """
    ranked = np.argsort(-votes, axis=0)[:_RANKED]
    cents, gains = (np.take_along_axis(rows, ranked, axis=0) for rows in (heights, votes))
    gains /= max(_middle(gains[0]), 1e-12)
    jump_cents = _JUMP_CENTS + _JUMP_STEPS * _middle(np.abs(np.diff(cents[0])))
    jumps = ((cents[:, :-1, None] - cents[:, 1:, None].transpose(2, 1, 0)) / jump_cents) ** 4
    total, before = gains[:, 0], []
    for frame in range(jumps.shape[1]):
        ways = total[:, None] - jumps[:, frame]
        before.append(ways.argmax(axis=0))
        total = ways.max(axis=0) + gains[:, frame + 1]
    path = [int(np.argmax(total))]
    for came in reversed(before):
        path.append(int(came[path[-1]]))
    return np.asarray(ranked[path[::-1], np.arange(len(path))], dtype=np.int64)


def _middle(few: Reals) -> float:
    """Return the middle one: as a median, and quicker where there are few."""
    return float(np.sort(few)[len(few) // 2])


def held(harmonics: Harmonics, sounds: NDArray[np.bool_], hop_seconds: float) -> Followed:
    """Return the course of a tone, and the frames in which it is neither beginning nor ending."""
    agreed = agreement(harmonics)
    usual = harmonics.trust * _usual(harmonics.powers)
    expected = np.sum(usual, axis=0) + 1e-3 * np.max(np.sum(usual, axis=0))
    level = np.sum(harmonics.trust * harmonics.powers, axis=0) / np.maximum(expected, 1e-30)
    loudest = np.sort(level)[-max(_LEAST_FRAMES, round(_LOUDEST_SHARE * len(level))) :]
    sounding = sounds & (level >= loudest[0] * 10 ** (-_HELD_BELOW_DB / 10))
    edge = round(_EDGE_SECONDS / hop_seconds)
    padded = np.concatenate([np.zeros(edge, dtype=np.bool_), sounding, np.zeros(edge, np.bool_)])
    inner = np.all([padded[k : k + len(level)] for k in range(2 * edge + 1)], axis=0)
    if np.sum(inner) < _LEAST_FRAMES:
        inner = sounding if np.any(sounding) else sounds
    course = np.interp(np.arange(len(level)), np.flatnonzero(inner), agreed.cents[inner])
    widened = np.concatenate([inner[:1], inner, inner[-1:]])
    softened = np.convolve(widened, np.ones(3) / 3, "valid") * inner
    return Followed(harmonics, agreed, sounds, course, softened)

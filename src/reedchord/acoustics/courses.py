"""How loud tones are over time: bands of loudness, presence in them, and entries."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from reedchord.acoustics.spectrum import Reals

AUDIBLE_ABOVE_NOISE = 4.0
"""So many times the noise under its partials a tone has where it is heard."""
LEAST_RANGE_DB = 9.0
BANDS = 3
_SETTLED_SECONDS = 0.5
_HELD_SECONDS = 0.35
"""So long a tone goes on once it has entered; the burst of an attack does not."""
_HALF_AMPLITUDE = 0.25
_BEGUN_BELOW_DB = 25.0
"""Fainter than that against its loudest, a tone has not begun: breath and others leak in."""
_SILENT_BELOW_DB = 45.0


def heard(powers: Reals, noise: float, loudest: float) -> NDArray[np.bool_]:
    """Tell in which frames a tone stands out of the noise, and is not far below the take."""
    least = max(AUDIBLE_ABOVE_NOISE * noise, loudest * 10 ** (-_SILENT_BELOW_DB / 10))
    return np.asarray(powers > least, dtype=np.bool_)


def loudness_bands(total: Reals, hop_seconds: float) -> tuple[list[NDArray[np.bool_]], Reals]:
    """Return the frames of each band, softest first, and the edges in dB below the loudest.

    `total` is the power of each frame. One band where the take hardly changes in loudness.
    Frames of attack and release, within an eighth of a second of silence, are left out.
    """
    levels = 10 * np.log10(np.maximum(total, 1e-20))
    levels = levels - np.max(levels)
    sounding = levels > -_SILENT_BELOW_DB
    edge = max(1, round(0.125 / hop_seconds))
    padded = np.pad(sounding, edge)
    inside = np.all([np.roll(padded, k)[edge:-edge] for k in range(-edge, edge + 1)], axis=0)
    inside = inside if np.any(inside) else sounding
    low, high = np.percentile(levels[inside], [3, 97])
    if high - low < LEAST_RANGE_DB:
        return [inside], np.array([low, high])
    edges = np.linspace(low, high, BANDS + 1)
    which = np.clip(np.searchsorted(edges, levels, side="right") - 1, 0, BANDS - 1)
    return [inside & (which == number) for number in range(BANDS)], edges


def onset_seconds(
    powers: Reals, is_heard: NDArray[np.bool_], times_seconds: Reals, hop_seconds: float
) -> float:
    """Return when a tone enters: where it has half the amplitude that it soon has.

    A window that is half over a beginning shows half of its amplitude. Between frames the
    amplitude is taken as linear.
    """
    begun = is_heard & (powers > np.max(powers) * 10 ** (-_BEGUN_BELOW_DB / 10))
    length = min(len(begun), max(2, round(_HELD_SECONDS / hop_seconds)))
    ahead = np.convolve(np.pad(begun, (0, length - 1)), np.ones(length), "valid")
    held = begun & (ahead >= 0.8 * length)
    first = int(np.argmax(held if np.any(held) else begun))
    soon = powers[first : first + max(2, round(_SETTLED_SECONDS / hop_seconds))]
    last = first + int(np.argmax(soon >= 0.8 * np.max(soon)))
    amplitude = np.sqrt(powers / np.max(soon))
    below = np.flatnonzero(amplitude[: last + 1] < _HALF_AMPLITUDE**0.5)
    if not len(below):
        return float(times_seconds[first])
    k = int(below[-1])
    share = (_HALF_AMPLITUDE**0.5 - amplitude[k]) / max(amplitude[k + 1] - amplitude[k], 1e-9)
    return max(0.0, float(times_seconds[k]) + float(share) * hop_seconds)

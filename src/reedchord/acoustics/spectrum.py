"""Sound as spectra over time, and the noise that lies beneath."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

Reals = NDArray[np.float64]
Complexes = NDArray[np.complex64]

CENTS_A_NEPER = 1200 / math.log(2)
WINDOW_SECONDS = 8192 / 44_100
HOPS_A_WINDOW = 4
ZERO_PADDING = 2
LOWEST_HZ, HIGHEST_HZ = 40.0, 10_000.0
"""Below the lowest note of any saxophone there is only the room; above, few partials help."""

_BLACKMAN_HARRIS = (0.35875, 0.48829, 0.14128, 0.01168)
"""Harris 1978, four terms, side lobes 92 dB down; the values are from memory, and
scipy.signal.windows.blackmanharris agrees."""
_FLOOR_QUANTILE = 0.3
"""Below the median, because partials cover more than half of the spectrum of a low tone."""
_FLOOR_OCTAVES = 0.5
_FLOOR_HZ = 150.0


@dataclass(frozen=True)
class Spectra:
    """Short-time spectra: `frames` has a row for each moment and a column for each frequency.

    A sine of amplitude 1 has magnitude 1; `noise` is the mean power of what lies beneath all
    lines. `times_seconds` are the middles of the windows.
    """

    samples: Reals
    rate_hz: int
    frames: Complexes
    power: Reals
    noise: Reals
    frequencies_hz: Reals
    times_seconds: Reals
    hop_seconds: float
    window_seconds: float

    @property
    def bin_hz(self) -> float:
        """Distance of the columns in Hz."""
        return float(self.frequencies_hz[1] - self.frequencies_hz[0])

    @property
    def lobe_hz(self) -> float:
        """Half the width of what one sine becomes."""
        return 4 / self.window_seconds

    @property
    def seconds(self) -> float:
        """How long the sound lasts."""
        return len(self.samples) / self.rate_hz


@lru_cache(maxsize=8)
def _window(length: int) -> NDArray[np.float32]:
    turns = 2 * np.pi * np.arange(length) / length
    signs = (1, -1, 1, -1)
    shape = sum(
        sign * term * np.cos(number * turns)
        for number, (sign, term) in enumerate(zip(signs, _BLACKMAN_HARRIS, strict=True))
    )
    return np.asarray(2 * shape / np.sum(shape), dtype=np.float32)


def _quick_length(least: int) -> int:
    """Return the next length whose Fourier transform is quick: factors 2, 3 and 5 alone."""
    odds = (1, 3, 5, 9, 15, 25, 27, 45)
    return min(odd << max(1, math.ceil(math.log2(least / odd))) for odd in odds)


def spectra(
    samples: Reals,
    rate_hz: int,
    window_seconds: float = WINDOW_SECONDS,
    hops_a_window: int = HOPS_A_WINDOW,
    highest_hz: float = HIGHEST_HZ,
) -> Spectra:
    """Return spectra of mono samples, half a window of silence added at both ends."""
    hop = max(1, round(window_seconds * rate_hz / hops_a_window))
    length = hops_a_window * hop
    padded = np.pad(samples.astype(np.float32), length // 2)
    views = np.lib.stride_tricks.sliding_window_view(padded, length)[::hop]
    padded_length = _quick_length(ZERO_PADDING * length)
    bin_hz = rate_hz / padded_length
    first, last = round(LOWEST_HZ / bin_hz), min(round(highest_hz / bin_hz), padded_length // 2)
    frames = np.empty((len(views), last - first + 1), dtype=np.complex64)
    window = _window(length)
    for row, view in enumerate(views):
        frames[row] = np.fft.rfft(view * window, padded_length)[first : last + 1]
    power = (frames.real**2 + frames.imag**2).astype(np.float64)
    frequencies_hz = np.asarray(np.arange(first, last + 1) * bin_hz, dtype=np.float64)
    looks = max(1.0, len(views) / hops_a_window)
    return Spectra(
        samples,
        rate_hz,
        frames,
        power,
        noise_floor(np.mean(power, axis=0), frequencies_hz, looks),
        frequencies_hz,
        np.asarray(np.arange(len(views)) * hop / rate_hz, dtype=np.float64),
        hop / rate_hz,
        length / rate_hz,
    )


def in_half_the_window(found: Spectra, highest_hz: float) -> Spectra:
    """Return spectra at the same moments through a window half as long, up to a frequency."""
    return spectra(
        found.samples,
        found.rate_hz,
        found.window_seconds / 2,
        round(found.window_seconds / 2 / found.hop_seconds),
        highest_hz,
    )


def noise_floor(power: Reals, hz: Reals, looks: float) -> Reals:
    """Return the mean power of the noise under an averaged spectrum, frequency by frequency.

    A running quantile, brought up to the mean of a gamma distribution of so many independent
    `looks` (1 for a single frame; Wilson and Hilferty's cube-root approximation).
    """
    centres = _centres(float(hz[0]), float(hz[-1]))
    half_widths = np.maximum(_FLOOR_HZ, centres * (2 ** (_FLOOR_OCTAVES / 2) - 1))
    starts = np.searchsorted(hz, centres - half_widths)
    ends = np.searchsorted(hz, centres + half_widths)
    quantiles = [
        np.partition(part, k := int(_FLOOR_QUANTILE * (len(part) - 1)))[k]
        for part in (power[a:b:ZERO_PADDING] for a, b in zip(starts, ends, strict=True))
    ]
    raised = np.log(np.maximum(quantiles, 1e-16)) - np.log(gamma_quantile(-0.524, looks))
    return np.asarray(np.exp(np.interp(hz, centres, raised)))


@lru_cache(maxsize=8)
def _centres(lowest_hz: float, highest_hz: float) -> Reals:
    octaves = np.arange(0, np.log2(highest_hz / lowest_hz), _FLOOR_OCTAVES / 2)
    return np.asarray(lowest_hz * 2**octaves)


def gamma_quantile(normal_deviate: float, looks: float) -> float:
    """Return what an average over `looks` of noise power reaches, against its mean.

    `normal_deviate` tells how often: −0.524 for 30 %, 3.7 for all but one in ten thousand.
    """
    spread = 1 / (9 * looks)
    return float(max(1 - spread + normal_deviate * spread**0.5, 0.05) ** 3)

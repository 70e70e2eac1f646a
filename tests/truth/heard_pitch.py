"""Pitches in samples, found by an ordinary spectrum: nothing of the project's own measuring."""

from __future__ import annotations

import numpy as np
from scipy.signal import find_peaks, welch

WINDOW_SECONDS = 0.4


def cents_off(samples, rate_hz, expected_hz):
    """Return by how many cents the spectral peak within a quarter tone lies above `expected_hz`.

    Mean power of overlapping Hann windows (Welch's method, scipy), the peak by a parabola
    through the logarithms of three bins (Smith, Spectral Audio Signal Processing; from memory).
    """
    length = round(WINDOW_SECONDS * rate_hz)
    hz, power = welch(samples, rate_hz, "hann", length, nfft=2**17, detrend=False)
    near = np.abs(1200 * np.log2(np.maximum(hz, 1) / expected_hz)) <= 50
    peaks = [i for i in find_peaks(power)[0] if near[i]]
    assert peaks, f"nothing sounds near {expected_hz:.1f} Hz"
    peak = max(peaks, key=lambda index: power[index])
    left, top, right = np.log(power[peak - 1 : peak + 2])
    shift = (left - right) / (left - 2 * top + right) / 2
    return 1200 * np.log2((hz[peak] + shift * (hz[1] - hz[0])) / expected_hz)


def beats_per_second(samples, rate_hz):
    """Return the strongest rate from 1 to 20 Hz at which the loudness swells."""
    power = np.square(samples)
    spectrum = np.abs(np.fft.rfft(power - power.mean(), 2**20))
    hz = np.fft.rfftfreq(2**20, 1 / rate_hz)
    slow = (hz >= 1) & (hz <= 20)
    return float(hz[slow][np.argmax(spectrum[slow])])

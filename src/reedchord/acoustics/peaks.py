"""Peaks of averaged spectra that noise would hardly make."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from reedchord.acoustics.spectrum import Reals, Spectra, gamma_quantile, noise_floor

BLOCK_FRAMES = 16
"""Frames that are looked at together (0.75 s), so that what sounds for a part is found too."""
_DETECTION_DEVIATE = 4.5
_LOOKS_A_FRAME = 0.5
"""Windows that overlap by three quarters tell half as much each."""
_REACH_COLUMNS = 2
_SKIRT_DB_A_LOBE = 25.0
_SKIRT_LOBES = 2.5


@dataclass(frozen=True)
class Peak:
    """A peak of one block: frequency in Hz, power of the sine, and how far it is above noise."""

    frequency_hz: float
    power: float
    above: float


def blocks(frames: int) -> list[tuple[int, int]]:
    """Return blocks of frames that overlap by half."""
    if frames <= BLOCK_FRAMES * 3 // 2:
        return [(0, frames)]
    starts = range(0, frames - BLOCK_FRAMES // 2, BLOCK_FRAMES // 2)
    return [(start, min(start + BLOCK_FRAMES, frames)) for start in starts]


def peaks(found: Spectra, first: int, last: int) -> list[Peak]:
    """Return the peaks of the spectrum averaged from frame `first` to before `last`."""
    power = np.mean(found.power[first:last], axis=0)
    looks = max(1.0, (last - first) * _LOOKS_A_FRAME)
    above = power / noise_floor(power, found.frequencies_hz, looks)
    columns = _tops(power, above > gamma_quantile(_DETECTION_DEVIATE, looks))
    columns = _without_skirts(columns, power, found)
    left, middle, right = (10 * np.log10(power[columns + side] + 1e-30) for side in (-1, 0, 1))
    shift = 0.5 * (left - right) / np.minimum(left - 2 * middle + right, -1e-9)
    hz = found.frequencies_hz[columns] + shift * found.bin_hz
    top = 10 ** ((middle - 0.25 * (left - right) * shift) / 10)
    rows = zip(hz.tolist(), top.tolist(), above[columns].tolist(), strict=True)
    return [Peak(*row) for row in rows]


def _tops(power: Reals, is_peak: NDArray[np.bool_]) -> NDArray[np.int64]:
    """Return columns that nothing near rises above."""
    reach, count = _REACH_COLUMNS, len(power)
    inner = power[reach:-reach]
    tops = is_peak[reach:-reach].copy()
    for shift in range(1, reach + 1):
        tops &= inner > power[reach - shift : count - reach - shift]
        tops &= inner >= power[reach + shift : count - reach + shift]
    return np.flatnonzero(tops) + reach


def _without_skirts(columns: NDArray[np.int64], power: Reals, found: Spectra) -> NDArray[np.int64]:
    """Leave out peaks on the flanks of much stronger ones: unsteadiness, not tones."""
    hz, level = found.frequencies_hz[columns], 10 * np.log10(power[columns] + 1e-30)
    lobes = np.abs(hz[:, None] - hz[None, :]) / found.lobe_hz
    stronger = level[None, :] - level[:, None] > 6 + _SKIRT_DB_A_LOBE * lobes
    return np.asarray(columns[~np.any(stronger & (lobes < _SKIRT_LOBES), axis=1)], dtype=np.int64)

"""Lines that a tone leaves beside its harmonics, because it moves: no evidence of another tone."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from reedchord.acoustics.following import Followed
from reedchord.acoustics.spectrum import CENTS_A_NEPER, Reals, Spectra

_SMOOTHED = 1.4
"""By so much more than its course, smoothed by the window, a tone with vibrato moves."""
_MOVES_LOBES = 0.15
"""A harmonic that goes no further than that to either side stands still."""
_MOVING_DB, _STILL_DB = 3.0, -6.0
"""Against its harmonic, how strong a line may be within reach where the tone moves or not."""
_SKIRT_DB_A_LOBE, _SKIRT_LOBES = 25.0, 2.5
"""How steeply what is smeared falls off beyond the reach, and where it ends."""
_UNEVEN_DB = 6.0
"""A harmonic without a line of its own may be so far below its neighbours."""
_SWINGS_CENTS = 8.0
"""A tone that moves over less than that has no vibrato."""


def is_within_swing(tone: Followed, frequency_hz: float) -> bool:
    """Tell whether a height is one that a tone with vibrato passes again and again."""
    low, high = _swing(tone)
    return low < CENTS_A_NEPER * np.log(frequency_hz) < high and high - low > _SWINGS_CENTS


def _swing(tone: Followed) -> tuple[float, float]:
    low, high = np.percentile(tone.course_cents[tone.held > 0], [3, 97]).tolist()
    return low, high


def covered(
    found: Spectra,
    tone: Followed,
    members: Sequence[tuple[int, int]],
    frequencies_hz: Reals,
    level_db: Reals,
) -> NDArray[np.bool_]:
    """Tell which lines lie where a moving tone smears its harmonics, and are no stronger.

    `members` are (harmonic number, index of the line) pairs of the tone itself.
    """
    base_hz, mean = tone.frequency_hz, tone.height_cents
    low, high = _swing(tone)
    numbers = np.maximum(1, np.rint(frequencies_hz / base_hz)).astype(np.int64)
    reach = [2 ** ((mean + _SMOOTHED * (edge - mean)) / 1200) for edge in (low, high)]
    below, above = numbers * reach[0] - frequencies_hz, frequencies_hz - numbers * reach[1]
    lobes = np.maximum(0.0, np.maximum(below, above)) / found.lobe_hz
    moves_hz = numbers * base_hz * (high - low) * _SMOOTHED / 2 / CENTS_A_NEPER
    room = np.where(moves_hz > _MOVES_LOBES * found.lobe_hz, _MOVING_DB, _STILL_DB)
    levels = np.full(max(int(np.max(numbers)), *(n for n, _ in members)) + 2, -np.inf)
    for number, index in members:
        levels[number] = max(levels[number], level_db[index])
    beside = np.maximum(levels[:-2], levels[2:]) - _UNEVEN_DB
    expected = np.maximum(levels[1:-1], beside)[numbers - 1]
    is_weaker = level_db < expected + room - _SKIRT_DB_A_LOBE * lobes
    return np.asarray(is_weaker & (lobes < _SKIRT_LOBES), dtype=np.bool_)

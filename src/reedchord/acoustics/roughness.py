"""Roughness of notes that sound together, in one model: a comparison, never a fact about sound.

Sethares, Local consonance and the relationship between timbre and scale, J. Acoust. Soc. Am.
94 (1993) 1218, with the constants of his program, which the paper rounds, and the smaller of
two amplitudes, as in his Tuning, Timbre, Spectrum, Scale (2nd ed., 2005).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import combinations

DISTANCE_OF_MOST = 0.24
"""Where the curve is about highest, in what `s` makes of the frequency difference."""
SLOPE, OFFSET_HZ = 0.0207, 18.96
"""s = 0.24 / (0.0207 · f_low + 18.96): the curve widens with the lower frequency."""
SLOW_DECAY, FAST_DECAY = 3.51, 5.75

HARMONICS = 7
"""Partials of a note in this comparison, each with 1/k of the first one's amplitude."""

Partial = tuple[float, float]
"""Frequency in Hz, and amplitude, 1 that of the first partial."""


def pair_roughness(one: Partial, other: Partial) -> float:
    """Return the roughness of two partials: min(a1, a2) · (e^(-3.51·s·Δf) - e^(-5.75·s·Δf))."""
    (low_hz, low_amplitude), (high_hz, high_amplitude) = sorted((one, other))
    distance = DISTANCE_OF_MOST * (high_hz - low_hz) / (SLOPE * low_hz + OFFSET_HZ)
    curve = math.exp(-SLOW_DECAY * distance) - math.exp(-FAST_DECAY * distance)
    return min(low_amplitude, high_amplitude) * curve


def roughness(partials: Sequence[Partial]) -> float:
    """Return the sum over all pairs of partials; it has no unit and compares only with its like."""
    return math.fsum(pair_roughness(one, other) for one, other in combinations(partials, 2))


def notes_roughness(notes_hz: Iterable[float]) -> float:
    """Return the roughness of notes that sound together, each with harmonic partials."""
    return roughness([partial for note_hz in notes_hz for partial in harmonic_partials(note_hz)])


def harmonic_partials(note_hz: float, count: int = HARMONICS) -> list[Partial]:
    """Return the partials of a note with amplitudes 1/k."""
    return [(k * note_hz, 1 / k) for k in range(1, count + 1)]

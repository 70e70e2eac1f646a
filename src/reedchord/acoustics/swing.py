"""Vibrato: where a tone swings evenly, frames in which something else was followed are mended."""

from __future__ import annotations

import numpy as np

from reedchord.acoustics.spectrum import Reals

_RATES_HZ = np.arange(3.0, 8.01, 0.25)
"""How often a player's vibrato swings in a second, with room (common practice, no source)."""
_STEPS = 3
_LEAST_FRAMES = 12
_USUAL_CENTS, _WILD = 5.0, 4.0
"""A frame is far off from four times what is usual on, and 20 cents at least."""


def mended(course_cents: Reals, held: Reals, hop_seconds: float) -> Reals:
    """Return a course in which frames far off its own even swing are as that swing has them.

    The swing, of a pitch that may drift, is fitted so that frames far off weigh little.
    """
    on = np.flatnonzero(held > 0)
    if len(on) < _LEAST_FRAMES:
        return course_cents
    cents, moments = course_cents[on], np.asarray(on * hop_seconds, dtype=np.float64)
    fits = [_fitted(cents, moments, float(rate_hz)) for rate_hz in _RATES_HZ]
    best = min(fits, key=lambda fit: float(np.sum(np.abs(cents - fit))))
    off = np.abs(cents - best)
    is_wild = off > _WILD * max(_USUAL_CENTS, float(np.median(off)))
    whole = course_cents.copy()
    whole[on[is_wild]] = best[is_wild]
    return whole


def _fitted(cents: Reals, moments: Reals, rate_hz: float) -> Reals:
    turns = 2 * np.pi * rate_hz * moments
    slope = moments - np.mean(moments)
    terms = np.stack([np.ones_like(slope), slope, np.sin(turns), np.cos(turns)], axis=1)
    weights = np.ones_like(cents)
    fit = np.full_like(cents, np.median(cents))
    for _ in range(_STEPS):
        solved = np.linalg.lstsq(terms * weights[:, None], cents * weights, rcond=None)[0]
        fit = terms @ solved
        off = np.abs(cents - fit)
        weights = 1 / np.sqrt(1 + (off / max(1.0, float(np.median(off)))) ** 2)
    return np.asarray(fit)

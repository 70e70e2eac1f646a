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
    fits = _fitted(cents, moments)
    off = np.abs(cents - fits)
    best = int(np.argmin(np.sum(off, axis=1)))
    is_wild = off[best] > _WILD * max(_USUAL_CENTS, float(np.median(off[best])))
    whole = course_cents.copy()
    whole[on[is_wild]] = fits[best, is_wild]
    return whole


def _fitted(cents: Reals, moments: Reals) -> Reals:
    """Return an even swing about a slope as it fits best, a row for each rate.

    Weighted least squares, the weights made anew from what is left (Cauchy's, from memory).
    """
    turns = 2 * np.pi * _RATES_HZ[:, None] * moments
    one = np.ones_like(turns)
    terms = np.stack([one, one * (moments - np.mean(moments)), np.sin(turns), np.cos(turns)], 2)
    weights = one
    fits = one * np.median(cents)
    for _ in range(_STEPS):
        weighted = terms * weights[:, :, None]
        squares = np.swapaxes(weighted, 1, 2) @ terms
        solved = np.linalg.solve(squares, np.swapaxes(weighted, 1, 2) @ cents[:, None])
        fits = (terms @ solved)[:, :, 0]
        off = np.abs(cents - fits)
        usual = np.maximum(1.0, np.median(off, axis=1, keepdims=True))
        weights = 1 / (1 + (off / usual) ** 2)
    return np.asarray(fits)

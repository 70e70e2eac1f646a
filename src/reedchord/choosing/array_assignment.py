"""Tones given to wishes in many sonorities at once, as `assignment.best_assignment` gives them."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

NEVER = 2**31 - 1
"""Stands where a tone does not meet a wish."""

_NEVER = 2**61
_BLOCK = 2**14
"""How many sums are made together: so many stay in the processor's cache."""


def best_assignments(
    costs: NDArray[np.int32], missing_cost: int
) -> tuple[NDArray[np.int8], NDArray[np.int64]] | None:
    """Return for each wish and each sonority the number of the tone it takes, and what all cost.

    `costs` holds a plane for each wish, in it a row for each tone and a column for each
    sonority, and none above `missing_cost` but NEVER; a wish without a tone has the number
    after the last. None where the sums of so many wishes do not fit into 64 bits.
    """
    wishes, tones, count = costs.shape
    # Below the cost stand the numbers of the tones, that of the first wish highest: of ways
    # that cost the same, the least sum is the first one.
    bits = tones.bit_length()
    if (wishes * missing_cost + 1) << bits * wishes >= _NEVER:
        return None
    shifts = [bits * (wishes - 1 - wish) for wish in range(wishes)]
    block = max(1, _BLOCK >> wishes)
    parts = [costs[:, :, at : at + block] for at in range(0, count, block)]
    least = np.concatenate([_least_sums(part, missing_cost, bits, shifts) for part in parts])
    taken = np.stack([least >> shift & (1 << bits) - 1 for shift in shifts])
    return taken.astype(np.int8), least >> bits * wishes


def _least_sums(
    costs: NDArray[np.int32], missing_cost: int, bits: int, shifts: list[int]
) -> NDArray[np.int64]:
    """Return the least sum for each sonority: dynamic programming over the sets of wishes met.

    The array of sets has an axis for each wish, 1 where it is met.
    """
    wishes, tones, count = costs.shape
    best = np.full((2,) * wishes + (count,), _NEVER, np.int64)
    best[(0,) * wishes] = 0
    can_meet = costs != NEVER
    sums = ((costs * can_meet).astype(np.int64) << bits * wishes) + ~can_meet * np.int64(_NEVER)
    for tone in range(tones):
        before = best.copy()
        for wish, shift in enumerate(shifts):
            met, unmet = _where(wish, 1), _where(wish, 0)
            more = sums[wish, tone] + (tone << shift)
            np.minimum(best[met], before[unmet] + more, out=best[met])
    for wish, shift in enumerate(shifts):
        best[_where(wish, 0)] += (missing_cost << bits * wishes) + (tones << shift)
    least: NDArray[np.int64] = best.reshape(-1, count).min(axis=0)
    return least


def _where(wish: int, met: int) -> tuple[slice | int, ...]:
    """Return the index of all sets in which a wish is met or not."""
    return (*(slice(None),) * wish, met)

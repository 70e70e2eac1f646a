"""How the sonorities of one saxophone lie under the fingers: changes from one to all at once."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from reedchord.choosing.sorted_heights import Rows
from reedchord.fingering import Fingering
from reedchord.fingering_change import COST_OF_CONTRARY_MOTION, Held, Hold, holds, weighed
from reedchord.keywork import Finger

_FINGERS = tuple(Finger)
_DOWN, _UP = 16, 24
"""Bits above the cost of a movement: one number for all, and sums of it keep them apart."""


@dataclass(frozen=True, eq=False)
class FingerTable:
    """Ways to hold some fingerings, one after the other."""

    count: int
    """How many fingerings there are."""
    owners: Rows
    """For each way, the place of its fingering."""
    held: list[list[Held]]
    """For each finger, all that it holds anywhere."""
    places: NDArray[np.intp]
    """For each finger and each way, the place in `held` of what the finger holds."""

    def scores(self, before: Fingering) -> NDArray[np.int32]:
        """Return the score of `fingering_change.change_difficulty` to each of the fingerings."""
        least = np.full(self.count, np.iinfo(np.int32).max, np.int32)
        for hold in holds(before):
            np.minimum.at(least, self.owners, self._scores_of_ways(hold))
        return least

    def _scores_of_ways(self, hold: Hold) -> NDArray[np.int32]:
        total = np.zeros(self.places.shape[1], np.int32)
        for finger, old, news, places in zip(_FINGERS, hold, self.held, self.places, strict=True):
            total += np.array([_movement(finger, old, new) for new in news], np.int32)[places]
        cost, down, up = total & 0xFFFF, total >> _DOWN & 0xFF, total >> _UP
        scores: NDArray[np.int32] = cost + COST_OF_CONTRARY_MOTION * np.minimum(down, up)
        return scores


def _movement(finger: Finger, old: Held, new: Held) -> int:
    if old == new:
        return 0
    moved = weighed(finger, old, new)
    return moved.cost + (moved.down << _DOWN) + (moved.up << _UP)


def finger_table(fingerings: Iterable[Fingering]) -> FingerTable:
    """Return the table of these fingerings, of which there is at least one."""
    found: list[dict[Held, int]] = [{} for _ in _FINGERS]
    ways = [holds(fingering) for fingering in fingerings]
    places = [
        [known.setdefault(held, len(known)) for known, held in zip(found, hold, strict=True)]
        for way in ways
        for hold in way
    ]
    return FingerTable(
        count=len(ways),
        owners=np.repeat(np.arange(len(ways)), [len(way) for way in ways]),
        held=[list(known) for known in found],
        places=np.array(places, np.intp).T.copy(),
    )

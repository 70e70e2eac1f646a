"""How the sonorities of one saxophone lie under the fingers: changes from one to all at once."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from reedchord.choosing.sorted_heights import Rows
from reedchord.fingering import Fingering
from reedchord.fingering_change import COST_OF_CONTRARY_MOTION, Held, Hold, holds, weighed
from reedchord.keywork import Finger, Hand

_DOWN, _UP = 16, 24
"""Bits above the cost of a movement: one number for all, and sums of it keep them apart."""

Numbers = NDArray[np.int32]


@dataclass(frozen=True, eq=False)
class HandTable:
    """What the fingers of one hand hold in some fingerings; many fingerings have it alike."""

    fingers: list[Finger]
    held: list[list[Held]]
    """For each finger, all that it holds anywhere."""
    places: NDArray[np.intp]
    """For each finger and each way to hold, the place in `held` of what the finger holds."""
    _known: dict[tuple[Held, ...], Numbers] = field(default_factory=dict)

    def movements(self, before: dict[Finger, Held]) -> Numbers:
        """Return the sums of all movements of the hand to each way to hold."""
        key = tuple(before[finger] for finger in self.fingers)
        if key not in self._known:
            self._known[key] = self._movements(key)
        return self._known[key]

    def _movements(self, before: tuple[Held, ...]) -> Numbers:
        total = np.zeros(self.places.shape[1], np.int32)
        every = zip(self.fingers, before, self.held, self.places, strict=True)
        for finger, old, after, places in every:
            total += _movements(finger, old, after)[places]
        return total


@dataclass(frozen=True, eq=False)
class FingerTable:
    """Some fingerings, with all ways to hold them."""

    count: int
    """How many fingerings there are."""
    owners: Rows
    """For each way to hold one, the place of its fingering."""
    hands: list[tuple[HandTable, Rows]]
    """Both hands, each with the place in its table for each way."""

    def scores(self, before: Fingering) -> Numbers:
        """Return the score of `fingering_change.change_difficulty` to each of the fingerings."""
        least = np.full(self.count, np.iinfo(np.int32).max, np.int32)
        for hold in holds(before):
            held = dict(zip(Finger, hold, strict=True))
            total = sum(hand.movements(held)[places] for hand, places in self.hands)
            cost, down, up = total & 0xFFFF, total >> _DOWN & 0xFF, total >> _UP
            np.minimum.at(least, self.owners, cost + COST_OF_CONTRARY_MOTION * np.minimum(down, up))
        return least


def _movements(finger: Finger, before: Held, after: list[Held]) -> Numbers:
    return np.array([_movement(finger, before, held) for held in after], np.int32)


def _movement(finger: Finger, old: Held, new: Held) -> int:
    if old == new:
        return 0
    moved = weighed(finger, old, new)
    return moved.cost + (moved.down << _DOWN) + (moved.up << _UP)


def finger_table(fingerings: Iterable[Fingering]) -> FingerTable:
    """Return the table of these fingerings, of which there is at least one."""
    ways = [holds(fingering) for fingering in fingerings]
    every = [hold for way in ways for hold in way]
    return FingerTable(
        count=len(ways),
        owners=np.repeat(np.arange(len(ways)), [len(way) for way in ways]),
        hands=[_hand(hand, every) for hand in Hand],
    )


def _hand(hand: Hand, every: list[Hold]) -> tuple[HandTable, Rows]:
    """Return what one hand holds in all ways to hold, and for each way where it stands."""
    numbers = [number for number, finger in enumerate(Finger) if finger.hand is hand]
    combined: dict[tuple[Held, ...], int] = {}
    rows = [
        combined.setdefault(tuple(hold[number] for number in numbers), len(combined))
        for hold in every
    ]
    found: list[dict[Held, int]] = [{} for _ in numbers]
    places = [
        [known.setdefault(one, len(known)) for known, one in zip(found, held, strict=True)]
        for held in combined
    ]
    table = HandTable(
        fingers=[tuple(Finger)[number] for number in numbers],
        held=[list(known) for known in found],
        places=np.array(places, np.intp).T.copy(),
    )
    return table, np.array(rows, np.intp)

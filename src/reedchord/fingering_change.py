"""How hard it is to change from one fingering to another, from the movements of the fingers.

The costs are common practice, no source: their order is what matters, not their size.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from itertools import combinations, product
from typing import NamedTuple

from reedchord.fingering import Amount, Fingering
from reedchord.keywork import CAN_HOLD_TOGETHER, KEYS, Finger, Group


class Motion(StrEnum):
    """What one finger does in a change."""

    PRESSES = "presses"
    LIFTS = "lifts"
    ADDS = "adds"
    """Presses one more key and keeps the others."""
    RELEASES = "releases"
    """Leaves one key and keeps the others."""
    COVERS_MORE = "covers more"
    OPENS_PARTLY = "opens partly"
    ROLLS = "rolls"
    """Between a main key and the one beside it, or between neighbours of one group."""
    SLIDES = "slides"
    """A little finger over rollers."""
    MOVES = "moves"
    """An index finger between main and side or palm keys, a thumb between its keys."""
    JUMPS = "jumps"
    """Between keys that are apart."""


_DOWN = {Motion.PRESSES, Motion.ADDS, Motion.COVERS_MORE}
_UP = {Motion.LIFTS, Motion.RELEASES, Motion.OPENS_PARTLY}

COST_OF_MOTION: dict[Motion, int] = {
    Motion.PRESSES: 2,
    Motion.LIFTS: 2,
    Motion.ADDS: 3,
    Motion.RELEASES: 3,
    Motion.COVERS_MORE: 3,
    Motion.OPENS_PARTLY: 3,
    Motion.ROLLS: 3,
    Motion.SLIDES: 4,
    Motion.MOVES: 5,
    Motion.JUMPS: 7,
}
"""Cost of a movement, by kind."""

COST_OF_FINGER: dict[Finger, int] = {
    Finger.LEFT_THUMB: -1,
    Finger.LEFT_LITTLE: 1,
    Finger.RIGHT_LITTLE: 1,
}
"""Added for fingers that are weaker, or freer, than the others."""

COST_OF_REACH: dict[Group, int] = {Group.PALM: 1, Group.SIDE: 1, Group.BESIDE: 1}
"""Added where a finger presses or leaves keys that do not lie under it."""

COST_OF_CONTRARY_MOTION = 3
"""Added for every finger that goes down while another goes up; the thumb is free of it."""

MOST_MODERATE = 11
GRADES = ((0, "no change"), (3, "very easy"), (6, "easy"), (MOST_MODERATE, "moderate"))
"""The words for a score, each up to its number; above the last a change is hard."""


@dataclass(frozen=True)
class FingerMove:
    """What one finger does: the keys it leaves, keeps and takes."""

    finger: Finger
    motion: Motion
    left: tuple[str, ...] = ()
    kept: tuple[str, ...] = ()
    taken: tuple[str, ...] = ()

    @property
    def cost(self) -> int:
        """Cost of this movement alone."""
        straight = self.motion in (Motion.PRESSES, Motion.LIFTS)
        groups = {KEYS[name].group for name in self.left + self.taken} if straight else set()
        reach = max((COST_OF_REACH.get(group, 0) for group in groups), default=0)
        return COST_OF_MOTION[self.motion] + COST_OF_FINGER.get(self.finger, 0) + reach

    def words(self) -> str:
        """Return the movement as a clause: `right little finger slides from E flat to low C`."""
        shape = _CLAUSES[self.motion]
        left, kept, taken = (_named(keys) for keys in (self.left, self.kept, self.taken))
        return f"{self.finger.words()} {shape.format(left=left, kept=kept, taken=taken)}"


_CLAUSES = {
    Motion.PRESSES: "presses {taken}",
    Motion.LIFTS: "leaves {left}",
    Motion.ADDS: "adds {taken} to {kept}",
    Motion.RELEASES: "leaves {left} and keeps {kept}",
    Motion.COVERS_MORE: "presses {kept} further",
    Motion.OPENS_PARTLY: "opens {kept} partly",
    Motion.ROLLS: "rolls from {left} to {taken}",
    Motion.SLIDES: "slides from {left} to {taken}",
    Motion.MOVES: "moves from {left} to {taken}",
    Motion.JUMPS: "jumps from {left} to {taken}",
}
_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")


def _named(keys: tuple[str, ...]) -> str:
    return " with ".join(keys)


@dataclass(frozen=True)
class ChangeDifficulty:
    """How hard a change is: a score (0 for no change, higher is harder) and what makes it so."""

    score: int
    moves: tuple[FingerMove, ...]
    contrary: bool

    @property
    def grade(self) -> str:
        """The score in words: no change, very easy, easy, moderate or hard."""
        return next((word for highest, word in GRADES if self.score <= highest), "hard")

    @property
    def words(self) -> str:
        """What the fingers do: `one finger: right little finger slides from E flat to low C`."""
        if not self.moves:
            return "no finger moves"
        count = _NUMBERS[len(self.moves)]
        fingers = f"{count} finger{'s' if len(self.moves) > 1 else ''}"
        contrary = ", some down while others go up" if self.contrary else ""
        return f"{fingers}{contrary}: {', '.join(move.words() for move in self.moves)}"


Held = tuple[tuple[str, Amount], ...]
"""The keys under one finger, and how far they are pressed."""
Hold = tuple[Held, ...]
"""A fingering under the hands: what each finger holds, in the order of `Finger`."""

_FINGERS = tuple(Finger)


def change_difficulty(before: Fingering, after: Fingering) -> ChangeDifficulty:
    """Return how hard the change is, with the easiest choice of fingers on both sides."""
    changes = (_change(held, wanted) for held, wanted in product(holds(before), holds(after)))
    return min(changes, key=lambda change: change.score)


@lru_cache(maxsize=4096)
def holds(fingering: Fingering) -> tuple[Hold, ...]:
    """Return the ways to hold a fingering, those alone where fingers are least overtaxed."""
    choices = [(KEYS[name].finger, *KEYS[name].other_fingers) for name in fingering.keys]
    ways = [_hold(fingering, fingers) for fingers in product(*choices)]
    if len(ways) == 1:
        return tuple(ways)
    fewest = min(map(_clashes, ways))
    return tuple(hold for hold in ways if _clashes(hold) == fewest)


def _hold(fingering: Fingering, fingers: tuple[Finger, ...]) -> Hold:
    worked = list(zip(fingering.pressed, fingers, strict=True))
    return tuple(tuple(key for key, by in worked if by is finger) for finger in _FINGERS)


def _clashes(hold: Hold) -> int:
    pairs = (pair for held in hold for pair in combinations([name for name, _ in held], 2))
    return sum(frozenset(pair) not in CAN_HOLD_TOGETHER for pair in pairs)


def _change(held: Hold, wanted: Hold) -> ChangeDifficulty:
    moved = [
        weighed(finger, old, new)
        for finger, old, new in zip(_FINGERS, held, wanted, strict=True)
        if old != new
    ]
    pairs = min(sum(one.down for one in moved), sum(one.up for one in moved))
    score = sum(one.cost for one in moved) + COST_OF_CONTRARY_MOTION * pairs
    return ChangeDifficulty(score, tuple(one.move for one in moved), pairs > 0)


class Weighed(NamedTuple):
    """A movement, its cost, and whether it counts as one down or up; the thumb's does not."""

    move: FingerMove
    cost: int
    down: bool
    up: bool


@lru_cache(maxsize=4096)
def weighed(finger: Finger, old: Held, new: Held) -> Weighed:
    """Return what one finger does that does not stay as it is, and what that costs."""
    move = _move(finger, dict(old), dict(new))
    counts = finger is not Finger.LEFT_THUMB
    return Weighed(move, move.cost, counts and move.motion in _DOWN, counts and move.motion in _UP)


def _move(finger: Finger, old: dict[str, Amount], new: dict[str, Amount]) -> FingerMove:
    """Return what one finger does that does not stay as it is."""
    left = tuple(name for name in old if name not in new)
    taken = tuple(name for name in new if name not in old)
    kept = tuple(name for name in old if name in new)
    motion = _motion(left, kept, taken)
    if motion is not None:
        return FingerMove(finger, motion, left, kept, taken)
    further = sum(_DEPTH[new[name]] - _DEPTH[old[name]] for name in kept) >= 0
    return FingerMove(finger, Motion.COVERS_MORE if further else Motion.OPENS_PARTLY, kept=kept)


def _motion(left: tuple[str, ...], kept: tuple[str, ...], taken: tuple[str, ...]) -> Motion | None:
    """Return what a finger does with its keys; None where it stays on them."""
    if left and taken:
        return _sideways(left, taken)
    if taken:
        return Motion.ADDS if kept else Motion.PRESSES
    if left:
        return Motion.RELEASES if kept else Motion.LIFTS
    return None


_ROLLED_WITHIN = ({Group.BESIDE}, {Group.MAIN, Group.BESIDE}, {Group.PALM}, {Group.SIDE})
"""Groups of keys between which a finger rolls without leaving its place."""


def _sideways(left: tuple[str, ...], taken: tuple[str, ...]) -> Motion:
    pairs = list(product(left, taken))
    near = any(frozenset(pair) in CAN_HOLD_TOGETHER for pair in pairs)
    groups = {KEYS[name].group for name in left + taken}
    if Group.TABLE in groups:
        return Motion.SLIDES if near else Motion.JUMPS
    return Motion.ROLLS if near or groups in _ROLLED_WITHIN else Motion.MOVES


_DEPTH = {Amount.SLIGHTLY: 1, Amount.HALF: 2, Amount.FULL: 3}

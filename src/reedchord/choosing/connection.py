"""What it costs to go from one sonority to the next in the time that there is.

The unit is that of a search: cents. Every number here is common practice, no source: what
matters is that a harder change, and less time for it, never cost less.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from reedchord.choosing.neighbours import documented_pairs
from reedchord.collection import Collection
from reedchord.fingering_change import ChangeDifficulty, change_difficulty
from reedchord.sonority import Sonority
from reedchord.sonority_fields import Closeness

POINTS_OF_DOCUMENTED: dict[Closeness, int] = {
    Closeness.BOTH: 2,
    Closeness.FINGERS: 3,
    Closeness.EMBOUCHURE: 4,
}
"""Difficulty of a change that a record calls easy, whatever the fingers would say."""

POINTS_OF_UNKNOWN_EMBOUCHURE = 5
"""Added to the score of the fingers where no record says how the embouchure changes; more than
any documented change has in all."""

SECONDS_PER_POINT = 0.05
"""Time that a change asks for without haste."""

SHARE_OF_LENGTH = 0.25
"""Part of a sonority's length that a player gives up for the change that follows."""

MOST_SHARE_SECONDS = 0.5
"""Longest time that is given up so; a rest adds its whole length."""

MOST_HASTE = 4
"""A change in less than this part of the time that it asks for is not playable."""

FRESH_AFTER_SECONDS = 4
"""After so long a rest a player begins anew, and no change is counted."""


class Basis(StrEnum):
    """How the difficulty of a change is known."""

    SAME = "the same sonority"
    DOCUMENTED = "documented"
    COMPUTED = "computed"


@dataclass(frozen=True)
class Connection:
    """The change from one sonority to another: how hard, and how that is known."""

    points: int
    basis: Basis
    because: Closeness | None
    fingers: ChangeDifficulty

    @property
    def needed_seconds(self) -> float:
        """The time that the change asks for without haste."""
        return self.points * SECONDS_PER_POINT

    def haste(self, seconds: float) -> float:
        """Return the time asked for over the time there is; 1 and less is no haste."""
        return self.needed_seconds / seconds

    def cost(self, seconds: float) -> float | None:
        """Return what the change costs in that time, in cents; None where nobody can play it.

        Points times the square of the haste: half the time costs four times as much.
        """
        haste = self.haste(seconds)
        return None if haste > MOST_HASTE else self.points * haste**2


@dataclass(frozen=True)
class Room:
    """The time between two sonorities of one player, after one of a length, in seconds.

    A negative rest is a sonority that begins while the player's last one still sounds.
    """

    length_seconds: float
    rest_seconds: float

    @property
    def change_seconds(self) -> float:
        """The time for a change: the rest, and what is given up of the length."""
        given_up = min(self.length_seconds * SHARE_OF_LENGTH, MOST_SHARE_SECONDS)
        return self.rest_seconds + given_up

    @property
    def is_fresh(self) -> bool:
        """Whether the player has rested so long that no change is counted."""
        return self.rest_seconds >= FRESH_AFTER_SECONDS

    def cost(self, connection: Connection | None) -> float | None:
        """Return what a change costs here; None where it cannot be played."""
        if connection is None or self.rest_seconds < 0:
            return None
        return 0.0 if self.is_fresh else connection.cost(self.change_seconds)


class Connections:
    """The connections of a collection; what was looked up once is kept."""

    def __init__(self, collection: Collection) -> None:
        self._documented = documented_pairs(collection)
        self._known: dict[tuple[str, str], Connection | None] = {}

    def between(self, before: Sonority, after: Sonority) -> Connection | None:
        """Return the connection; None between two saxophones."""
        pair = before.id, after.id
        if pair not in self._known:
            self._known[pair] = self._look_up(before, after)
        return self._known[pair]

    def _look_up(self, before: Sonority, after: Sonority) -> Connection | None:
        if before.saxophone != after.saxophone:
            return None
        fingers = change_difficulty(before.fingering, after.fingering)
        if before.id == after.id:
            return Connection(0, Basis.SAME, None, fingers)
        because = self._documented.get(frozenset((before.id, after.id)))
        if because is not None:
            return Connection(POINTS_OF_DOCUMENTED[because], Basis.DOCUMENTED, because, fingers)
        points = fingers.score + POINTS_OF_UNKNOWN_EMBOUCHURE
        return Connection(points, Basis.COMPUTED, None, fingers)

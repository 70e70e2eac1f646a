"""What a row of wishes asks for: what should sound, when, and who is there to play it."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction

from reedchord.choosing.search_wish import Wish
from reedchord.errors import Where
from reedchord.lasting import Length
from reedchord.saxophones import Saxophone


@dataclass(frozen=True)
class Player:
    """Who plays, on one saxophone; `part` is the part of the score."""

    name: str
    saxophone: Saxophone
    part: str | None = None


@dataclass(frozen=True)
class RowWish:
    """One wish of a row.

    `begin_seconds` and `end_seconds` count from the beginning of the first; `fixed` is the id
    of the sonority that must stand here, `player` the place among the players of the one who
    must have it. `said` is the wish as it was written. `bar` and `beat` are for the plan, and
    so is the length where somebody said it.
    """

    number: int
    wish: Wish
    said: str
    lasts: Length
    begin_seconds: Fraction
    end_seconds: Fraction
    is_length_said: bool = True
    fixed: str | None = None
    player: int | None = None
    bar: str | None = None
    beat: str | None = None
    where: Where = field(default_factory=Where)

    @property
    def length_seconds(self) -> Fraction:
        """How long it sounds."""
        return self.end_seconds - self.begin_seconds


@dataclass(frozen=True)
class ChainRequest:
    """A row of wishes in the order in which they begin, and who may play what.

    Without players, one player of any one saxophone has all of them. `forbidden` are ids of
    sonorities, each with the place where it was asked for.
    """

    wishes: tuple[RowWish, ...]
    players: tuple[Player, ...] = ()
    forbidden: tuple[tuple[str, Where], ...] = ()

"""A placement as it will be played: when, how loud, begun how, and how soon something follows."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction

from reedchord.checks.finding import Spot
from reedchord.dynamics import Dynamic
from reedchord.placement.found import Found
from reedchord.placement.record import PlacedRecord
from reedchord.placement.style import Manner
from reedchord.score_time.sounding_notes import Attack
from reedchord.sonority import Sonority
from reedchord.sonority_fields import Articulation, Limit

_TONGUED = (Articulation.SINGLE_TONGUE, Articulation.DOUBLE_TONGUE, Articulation.BREATH)


@dataclass(frozen=True)
class Played:
    """One placement in time; quarters and seconds count from the score's start.

    `dynamics` are those it goes through, that of its beginning first, none where nobody has
    said. `strokes` is how often it is begun, None for a tremolo that is not measured;
    `alternates` tells a tremolo of two, each of which is begun every other stroke.
    `next_seconds` is when the player begins the next note, None at the end; `tempo` is in
    quarters per minute.
    """

    found: Found = field(repr=False)
    sonority: Sonority
    numbers: tuple[int, ...]
    emphasised: int | None
    spot: Spot
    onset_quarters: Fraction
    quarters: Fraction
    onset_seconds: float
    end_seconds: float
    tempo: Fraction
    dynamics: tuple[Dynamic, ...]
    attack: Attack
    strokes: int | None
    alternates: bool
    next_quarters: Fraction | None
    next_seconds: float | None

    @property
    def row(self) -> PlacedRecord:
        """The record of the placement."""
        return self.found.row

    @property
    def name(self) -> str:
        """Label and id: `M2 alto-slack-water`."""
        return f"{self.row.label} {self.sonority.id}"

    @property
    def seconds(self) -> float:
        """How long it sounds."""
        return self.end_seconds - self.onset_seconds

    @property
    def dynamic(self) -> Dynamic | None:
        """The dynamic at its beginning, None where nobody has said."""
        return self.dynamics[0] if self.dynamics else None

    @property
    def is_grace(self) -> bool:
        """Whether it has no time of its own."""
        return self.row.wish.grace is not None

    @property
    def quarters_per_attack(self) -> Fraction | None:
        """Time from one beginning to the next; None where nothing follows or nobody can tell."""
        if self.is_grace or self.strokes is None:
            return None
        if self.strokes > 1:
            return self.quarters / self.strokes * (2 if self.alternates else 1)
        return None if self.next_quarters is None else self.next_quarters - self.onset_quarters

    @property
    def attacks_per_second(self) -> float | None:
        """How fast it is to be articulated; None where nothing follows or nobody can tell."""
        if self.quarters_per_attack is None or self.strokes is None:
            return None
        if self.strokes > 1:
            seconds = self.seconds / self.strokes * (2 if self.alternates else 1)
        else:
            seconds = (self.next_seconds or 0) - self.onset_seconds
        return 1 / seconds if seconds > 0 else None

    @property
    def ways(self) -> tuple[Articulation, ...]:
        """The ways of articulating that it may be begun by."""
        if self.row.wish.manner is Manner.SLAP:
            return (Articulation.SLAP,)
        if self.alternates or (self.attack is Attack.SLURRED and self.strokes == 1):
            return (Articulation.SLUR,)
        return _TONGUED

    @property
    def limits(self) -> tuple[Limit, ...]:
        """The limits of its sonority for these ways, fastest first."""
        mine = [limit for limit in self.sonority.limits if limit.articulation in self.ways]
        return tuple(sorted(mine, key=_speed, reverse=True))


def _speed(limit: Limit) -> Fraction:
    return limit.fastest.attacks_per_second

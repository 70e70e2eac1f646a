"""What is asked for at one place: a placement with its sonority, fitted to the part."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

from reedchord.carry import carry_to
from reedchord.errors import ReedchordError, RequestError, Where
from reedchord.musicxml.document import Score
from reedchord.placement.annotate import refuse_changes, tones_at
from reedchord.placement.course import course
from reedchord.placement.layout import layout
from reedchord.placement.plan import Placement
from reedchord.placement.record import PastChange, ScoreRecord
from reedchord.placement.style import Style
from reedchord.placement.target import Target
from reedchord.saxophones import Saxophone
from reedchord.sonority import Sonority

ADDRESS = ("part", "bar", "beat", "voice", "staff", "grace")
"""The fields of a placement that say where it is."""


class Wish(NamedTuple):
    """A placement together with its sonority and the place in a plan where it was asked for.

    `set_aside` holds earlier wishes by sonority, for when it is swapped back; `is_swap`
    says that something else was meant to give way; `history` is what trials changed
    earlier. `other` takes turns with the sonority.
    """

    placement: Placement
    sonority: Sonority
    where: Where = Where()
    set_aside: Mapping[str, Placement] = MappingProxyType({})
    history: tuple[PastChange, ...] = ()
    is_swap: bool = False
    other: Sonority | None = None

    @property
    def sonorities(self) -> tuple[Sonority, ...]:
        """The sonority, and the one that takes turns with it, if any."""
        return (self.sonority,) if self.other is None else (self.sonority, self.other)

    def asks_for_the_same(
        self, placement: Placement, sonority: Sonority | None, other: Sonority | None
    ) -> bool:
        """Whether another placement asks for the same, wherever it is, slurs aside."""
        here = {name: getattr(self.placement, name) for name in (*ADDRESS, "slur")}
        same = (sonority, other) == (self.sonority, self.other)
        return same and placement.model_copy(update=here) == self.placement


def address(placement: Placement) -> tuple[str | None, ...]:
    """Return where a placement is."""
    return tuple(getattr(placement, name) for name in ADDRESS)


def with_other(wish: Wish, known: Mapping[str, Sonority]) -> Wish:
    """Return the wish with the sonority that takes turns, from those that a score knows."""
    name = wish.placement.other
    if name is None or wish.other is not None:
        return wish
    return wish._replace(other=known[name])


def told_saxophones(record: ScoreRecord) -> dict[str, Saxophone]:
    """Return the saxophones that users told for parts, by part id; the last one told counts."""
    return {
        row.wish.part: row.wish.saxophone
        for row in record.placements
        if row.wish.saxophone is not None
    }


def with_saxophone(wish: Wish, score: Score, told: Mapping[str, Saxophone]) -> Wish:
    """Return the wish with the saxophone told for its part, by id, where it names none itself."""
    if wish.placement.saxophone is not None or not told:
        return wish
    try:
        part = score.part(wish.placement.part)
    except RequestError:
        return wish  # whoever looks for its target tells the mistake with its place
    if part.id not in told:
        return wish
    placement = wish.placement.model_copy(update={"saxophone": told[part.id]})
    return wish._replace(placement=placement)


def fitting(wish: Wish, target: Target, warnings: list[str]) -> Wish:
    """Return the wish with sonorities for the part's own saxophone.

    Raises RequestError where one is for another saxophone and may not or cannot be carried.
    """
    sonority = _fitting(wish.sonority, wish.placement, target, warnings)
    other = None if wish.other is None else _fitting(wish.other, wish.placement, target, warnings)
    if other is not None and other.id == sonority.id:
        raise RequestError(
            "course.same-sonority",
            f"{sonority.id} cannot alternate with itself",
            hint="Name another sonority.",
            where=target.where,
        )
    names = {"sonority": sonority.id}
    for way in ("tremolo", "trill"):
        if getattr(wish.placement, way) is not None and other is not None:
            names[way] = other.id
    placement = wish.placement.model_copy(update=names)
    return wish._replace(placement=placement, sonority=sonority, other=other)


def _fitting(
    sonority: Sonority, placement: Placement, target: Target, warnings: list[str]
) -> Sonority:
    member = target.pitch.saxophone
    if sonority.saxophone == member:
        return sonority
    if not placement.carry:
        raise RequestError(
            "part.other-saxophone",
            f"{sonority.id} is for {sonority.saxophone.name}, the part for {member.name}",
            hint=f"Carry it to {member.name} (--carry), knowing that only a trial makes it "
            "true, or choose a sonority of that saxophone.",
            where=target.where,
        )
    carried = carry_to(sonority, member)
    if carried.sonority is None:
        raise RequestError(
            "carry.missing-keys",
            f"{sonority.id} cannot be fingered on {member.name}: "
            f"no {' and no '.join(carried.missing_keys)}",
            where=target.where,
        )
    warnings += [f"{carried.sonority.id}: {sentence}" for sentence in carried.warnings]
    return carried.sonority


def check_tones(wish: Wish, target: Target, style: Style) -> None:
    """Raise RequestError with the place where a wished tone, order or rhythm is impossible."""
    try:
        if target.keeps_notes:
            refuse_changes(wish.placement)
        sounding = tones_at(wish.placement, wish.sonority, style, target)
        way = course(wish.placement, wish.sonority, sounding, target.duration_quarters)
        layout([(target, way.rhythm)])
    except ReedchordError as error:
        raise error.at(target.where) from None

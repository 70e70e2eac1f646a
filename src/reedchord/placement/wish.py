"""What is asked for at one place: a placement with its sonority, fitted to the part."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from reedchord.carry import carry_to
from reedchord.errors import ReedchordError, RequestError, Where
from reedchord.placement.appearance import wanted_tones
from reedchord.placement.course import course
from reedchord.placement.layout import layout
from reedchord.placement.plan import Placement
from reedchord.placement.style import Style
from reedchord.placement.target import Target
from reedchord.sonority import Sonority

ADDRESS = ("part", "bar", "beat", "voice", "staff", "grace")
"""The fields of a placement that say where it is."""


@dataclass(frozen=True)
class Wish:
    """A placement together with its sonority and the place in a plan where it was asked for.

    `set_aside` holds earlier wishes by sonority, for when it is swapped back; `is_swap`
    says that something else was meant to give way.
    """

    placement: Placement
    sonority: Sonority
    where: Where = field(default_factory=Where)
    set_aside: Mapping[str, Placement] = field(default_factory=dict)
    is_swap: bool = False

    def asks_for_the_same(self, placement: Placement, sonority: Sonority | None) -> bool:
        """Whether another placement asks for the same, wherever it is."""
        here = {name: getattr(self.placement, name) for name in ADDRESS}
        return placement.model_copy(update=here) == self.placement and sonority == self.sonority


def address(placement: Placement) -> tuple[str | None, ...]:
    """Return where a placement is."""
    return tuple(getattr(placement, name) for name in ADDRESS)


def fitting(wish: Wish, target: Target, warnings: list[str]) -> Wish:
    """Return the wish with a sonority for the part's own saxophone.

    Raises RequestError where it is for another one and may not or cannot be carried.
    """
    member, sonority = target.pitch.saxophone, wish.sonority
    if sonority.saxophone == member:
        return wish
    if not wish.placement.carry:
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
    placement = wish.placement.model_copy(update={"sonority": carried.sonority.id})
    return replace(wish, placement=placement, sonority=carried.sonority)


def check_tones(wish: Wish, target: Target, style: Style) -> None:
    """Raise RequestError with the place where a wished tone, order or rhythm is impossible."""
    try:
        sounding = wanted_tones(
            wish.placement, wish.sonority, style, is_concert=target.pitch.is_concert
        )
        way = course(wish.placement, wish.sonority, sounding, target.duration_quarters)
        layout([(target, way.steps)])
    except ReedchordError as error:
        raise error.at(target.where) from None

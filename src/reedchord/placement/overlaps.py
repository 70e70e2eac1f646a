"""Placements that want to sound in one voice at the same time."""

from __future__ import annotations

from collections.abc import Iterable

from reedchord.errors import ReedchordError, RequestError
from reedchord.placement.target import Target
from reedchord.placement.wish import Wish


def overlaps(wanted: Iterable[tuple[Wish, Target]]) -> list[ReedchordError]:
    """Return an error for every placement that begins before an earlier one ends."""
    rows = sorted(wanted, key=lambda row: (_voice(row[1]), row[1].order))
    errors: list[ReedchordError] = []
    before: tuple[Wish, Target] | None = None
    for wish, target in rows:
        if before is not None and before[1].overlaps(target):
            errors.append(_overlap(before, (wish, target)))
        elif before is None or not target.grace:
            before = wish, target
    return errors


def _voice(target: Target) -> tuple[int, str, str]:
    return target.part_index, target.event.voice, target.event.staff


def _overlap(first: tuple[Wish, Target], second: tuple[Wish, Target]) -> ReedchordError:
    (earlier, before), (later, target) = first, second
    error = RequestError(
        "placement.overlap",
        f"{earlier.sonority.id}, placed on bar {before.bar}, beat {before.beat}, still sounds here",
        hint="Let one end before the other begins, or put them in different voices.",
        where=target.where,
    )
    return error.at(later.where if later.where.line is not None else earlier.where)

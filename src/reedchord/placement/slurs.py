"""Slurs from one placement to the next in its voice."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from reedchord.errors import ReedchordError, RequestError
from reedchord.musicxml import markup
from reedchord.musicxml.part_music import PartMusic
from reedchord.placement.target import Target
from reedchord.placement.wish import Wish

SLUR_NUMBERS = range(1, 7)
"""MusicXML before 4.0 tells slurs apart that overlap by numbers from 1 to 6."""


def unfollowed(wanted: Iterable[tuple[Wish, Target]]) -> list[ReedchordError]:
    """Return an error for every slur that has no sonority to lead to."""
    rows = list(wanted)
    next_ones = followers([target for _, target in rows])
    errors: list[ReedchordError] = []
    for index, (wish, target) in enumerate(rows):
        if wish.placement.slur and index not in next_ones:
            error = RequestError(
                "slur.no-neighbour",
                f"no sonority begins where {wish.sonority.id} ends, so no slur can lead to it",
                hint="Place one there too, let this one last longer (--for), or leave --slur out.",
                where=target.where,
            )
            errors.append(error.at(wish.where))
    return errors


def followers(targets: Sequence[Target]) -> dict[int, int]:
    """Return the index of the target that begins where another ends in its voice."""
    begins = {target.key: index for index, target in enumerate(targets)}
    found: dict[int, int] = {}
    for index, target in enumerate(targets):
        part_id, _, _, voice, staff, _ = target.key
        for bar_index, moment in _moments_after(target):
            following = begins.get((part_id, bar_index, moment, voice, staff, 0))
            if following is not None and following != index:
                found[index] = following
    return found


def _moments_after(target: Target) -> list[tuple[int, Fraction]]:
    last = target.span.stretches[-1]
    length = max(target.music.bar(last.bar_index).ends.values(), default=Fraction(0))
    moments = [(last.bar_index, last.end_quarters)]
    return [*moments, (last.bar_index + 1, Fraction(0))] if last.end_quarters == length else moments


def slur_notations(
    targets: Sequence[Target], are_slurred: Sequence[bool]
) -> dict[int, tuple[str, ...]]:
    """Return the ends of slurs as markup by the index of the target on which they stand."""
    next_ones = followers(targets)
    marks: dict[int, tuple[str, ...]] = {}
    numbers: dict[str, tuple[int, int]] = {}
    chosen: dict[int, int] = {}
    for index, target in enumerate(targets):
        if not are_slurred[index] or index not in next_ones:
            continue
        if target.part.id not in numbers:
            numbers[target.part.id] = _free_numbers(target.music)
        first, second = numbers[target.part.id]
        # Where a slur ends and the next begins on one note, their numbers differ.
        number = second if chosen.get(index) == first else first
        chosen[next_ones[index]] = number
        marks[index] = (*marks.get(index, ()), markup.slur("start", number))
        following = next_ones[index]
        marks[following] = (markup.slur("stop", number), *marks.get(following, ()))
    return marks


def _free_numbers(music: PartMusic) -> tuple[int, int]:
    """Return two numbers that no slur of the part has, or the highest ones."""
    used = {slur.get("number", "1") for bar in music.part.bars for slur in bar.element.iter("slur")}
    free = [number for number in SLUR_NUMBERS if str(number) not in used]
    first, second, *_ = [*free, *reversed(SLUR_NUMBERS)]
    return first, second

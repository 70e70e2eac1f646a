"""Slurs from one placement to the next in its voice."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING, NamedTuple

from reedchord.errors import ReedchordError, RequestError
from reedchord.musicxml import markup
from reedchord.musicxml.part_music import PartMusic
from reedchord.placement.record import PlacedRecord, SlurRecord, slur_id
from reedchord.placement.target import Target, TargetKey
from reedchord.placement.wish import Wish

if TYPE_CHECKING:
    from reedchord.placement.found import Found

SLUR_NUMBERS = range(1, 7)
"""MusicXML before 4.0 tells slurs apart that overlap by numbers from 1 to 6."""


class Spot(NamedTuple):
    """A place where a sonority comes or stands: where it begins, and where it ends."""

    music: PartMusic
    key: TargetKey
    last_bar_index: int
    end_quarters: Fraction

    @property
    def follow(self) -> Iterator[TargetKey]:
        """The places that are right after it in its voice."""
        part_id, _, _, voice, staff, _ = self.key
        length = max(self.music.bar(self.last_bar_index).ends.values(), default=Fraction(0))
        yield part_id, self.last_bar_index, self.end_quarters, voice, staff, 0
        if self.end_quarters == length:
            yield part_id, self.last_bar_index + 1, Fraction(0), voice, staff, 0


def _spot(place: Target | Found) -> Spot:
    """Return where a placement comes, or where one stands that is not missing."""
    if isinstance(place, Target):
        last = place.span.stretches[-1]
        return Spot(place.music, place.key, last.bar_index, last.end_quarters)
    assert place.music is not None  # as it is not missing
    index, event = place.chain[-1]
    return Spot(place.music, place.key, index, event.end_quarters)


def unfollowed(
    wanted: Iterable[tuple[Wish, Target]],
    standing: Sequence[Found] = (),
    asked: Mapping[int, Wish] | None = None,
) -> list[ReedchordError]:
    """Return an error for every slur that has no sonority to lead to.

    `standing` are placements that stay, `asked` the wishes for some of them, by number. A swap
    asks for no slur of its own: what has lost the next one goes without.
    """
    rows: list[tuple[Wish | None, Target | Found]] = [*wanted]
    rows += [((asked or {}).get(one.row.number), one) for one in standing]
    asking = {
        index: wish
        for index, (wish, _) in enumerate(rows)
        if wish is not None and wish.placement.slur and not wish.is_swap
    }
    next_ones = followers([_spot(place) for _, place in rows]) if asking else {}
    errors: list[ReedchordError] = []
    for index, wish in asking.items():
        if index not in next_ones:
            error = RequestError(
                "slur.no-neighbour",
                f"no sonority begins where {wish.sonority.id} ends, so no slur can lead to it",
                hint="Place one there too, let this one last longer (--for), or leave --slur out.",
                where=rows[index][1].where,
            )
            errors.append(error.at(wish.where))
    return errors


def followers(spots: Sequence[Spot]) -> dict[int, int]:
    """Return the index of the spot that begins where another ends in its voice."""
    begins = {spot.key: index for index, spot in enumerate(spots)}
    found: dict[int, int] = {}
    for index, spot in enumerate(spots):
        for key in spot.follow:
            following = begins.get(key)
            if following is not None and following != index:
                found[index] = following
    return found


class Slurred(NamedTuple):
    """A placement that comes or stands, by number, and whether a new slur is to lead from it."""

    number: int
    place: Target | Found
    wants_slur: bool


class Slurs(NamedTuple):
    """New slurs: the ends that stand on placements, as markup, and what is recorded of them.

    Both are by the number of the placement, the record by that of the one it leads from.
    """

    marks: Mapping[int, tuple[str, ...]]
    records: Mapping[int, SlurRecord]


def wants_slur(row: PlacedRecord) -> bool:
    """Whether a slur was asked for from a placement that stays, and none stands."""
    return row.wish.slur and row.slur is None and row.was is not None


def wants_slurs(standing: Sequence[Found]) -> bool:
    """Whether a slur is to be written between placements that stay."""
    if not any(wants_slur(one.row) for one in standing):
        return False
    next_ones = followers([_spot(one) for one in standing])
    return any(wants_slur(standing[index].row) for index in next_ones)


def new_slurs(placements: Sequence[Slurred], *, taken_ids: Container[str] | None) -> Slurs:
    """Return the slurs from those placements that want one to those that follow them at once.

    Ends of slurs have ids that are not among `taken_ids`, and none where these are None.
    """
    marks: dict[int, tuple[str, ...]] = {}
    records: dict[int, SlurRecord] = {}
    if not any(one.wants_slur for one in placements):
        return Slurs(marks, records)
    spots = [_spot(one.place) for one in placements]
    next_ones = followers(spots)
    numbers: dict[str, tuple[int, int]] = {}
    arriving: dict[int, int] = {}
    for index in sorted(next_ones, key=lambda index: spots[index].key[:3]):
        one, following = placements[index], placements[next_ones[index]]
        if not one.wants_slur:
            continue
        part_id = spots[index].key[0]
        if part_id not in numbers:
            numbers[part_id] = _free_numbers(spots[index].music)
        first, second = numbers[part_id]
        # Where a slur ends and the next begins on one note, their numbers differ.
        number = second if arriving.get(one.number) == first else first
        arriving[following.number] = number
        records[one.number] = SlurRecord.model_construct(to=following.number, number=number)
        start, stop = (
            _end(way, number, standing, taken_ids)
            for way, standing in (("start", one.number), ("stop", following.number))
        )
        marks[one.number] = (*marks.get(one.number, ()), start)
        marks[following.number] = (stop, *marks.get(following.number, ()))
    return Slurs(marks, records)


def _end(way: str, number: int, standing: int, taken_ids: Container[str] | None) -> str:
    name = slur_id(standing, way)
    is_free = taken_ids is not None and name not in taken_ids
    return markup.slur(way, number, name if is_free else None)


def _free_numbers(music: PartMusic) -> tuple[int, int]:
    """Return two numbers that no slur of the part has, or the highest ones."""
    used = {slur.get("number", "1") for bar in music.part.bars for slur in bar.element.iter("slur")}
    free = [number for number in SLUR_NUMBERS if str(number) not in used]
    first, second, *_ = [*free, *reversed(SLUR_NUMBERS)]
    return first, second

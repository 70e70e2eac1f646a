"""Slurs of ours in a score that was edited since: where their ends are, and which can go."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence, Set
from functools import cached_property
from typing import NamedTuple

from reedchord.musicxml.document import Bar, Part
from reedchord.musicxml.slur_ends import SlurEnd, slur_ends, slur_partners
from reedchord.placement.found import Found, still_there
from reedchord.placement.record import PlacedRecord, slur_id


class StandingSlur(NamedTuple):
    """A slur of ours: from which placement it leads to which, by number, and its ends.

    There are fewer than two ends where somebody took one out. `is_changed` says that somebody
    made it a slur to or from elsewhere.
    """

    part: Part
    first: int
    second: int
    ends: tuple[SlurEnd, ...]
    is_changed: bool


class LooseSlurs(NamedTuple):
    """Ends of our slurs that are to be taken out, each with its bar, and what is to be told.

    `changed` are sentences on slurs that are no longer ours alone and stay, `told` on those
    that go from a placement that stays; no slur leads on from those in `unslurred` now.
    """

    ends: tuple[tuple[Bar, SlurEnd], ...]
    changed: tuple[str, ...]
    told: tuple[str, ...]
    unslurred: frozenset[int]


class StandingSlurs:
    """The slurs of a record where they stand in the score as it is now."""

    def __init__(self, rows: Iterable[PlacedRecord], found: Iterable[Found]) -> None:
        self._rows = {row.number: row for row in rows}
        self._found = {one.row.number: one for one in still_there(found)}
        self._parts: dict[str, _SlursOfPart] = {}

    def loosened_by(self, going: Iterable[Found]) -> LooseSlurs:
        """Return what becomes of slurs when placements go.

        A slur goes with the placement at either end, and where the row of the first, as it was
        found, has it no longer.
        """
        gone = {one.row.number for one in going}
        staying = {number: one for number, one in self._found.items() if number not in gone}
        loose = [
            slur
            for slur in self._all
            if slur.first not in staying
            or slur.second not in staying
            or staying[slur.first].row.slur is None
        ]
        removable = self._removable([slur for slur in loose if not slur.is_changed])
        told: dict[bool, list[str]] = {True: [], False: []}
        for slur in loose:
            is_changed = slur not in removable
            if is_changed or slur.first in staying or slur.second in staying:
                told[is_changed].append(self._sentence(slur, is_changed=is_changed))
        ends = [(slur.part.bars[end.bar_index], end) for slur in removable for end in slur.ends]
        unslurred = frozenset(slur.first for slur in loose if slur.first in staying)
        return LooseSlurs(tuple(ends), tuple(told[True]), tuple(told[False]), unslurred)

    def _sentence(self, slur: StandingSlur, *, is_changed: bool) -> str:
        there = self._found.get(slur.first) or self._found[slur.second]
        what = "was changed and stays" if is_changed else "is taken out"
        labels = " to ".join(self._label(number) for number in (slur.first, slur.second))
        return f"{there.where}: the slur from {labels} {what}"

    def _label(self, number: int) -> str:
        row = self._rows.get(number)
        return row.label if row else "the next sonority"

    @cached_property
    def _all(self) -> tuple[StandingSlur, ...]:
        return tuple(self._standing())

    def _standing(self) -> Iterator[StandingSlur]:
        for row in self._rows.values():
            if row.slur is None:
                continue
            first, second = self._found.get(row.number), self._found.get(row.slur.to)
            there = first or second
            if there is None or there.music is None:
                continue
            slurs = self._of(there.music.part)
            starts, stops = slurs.at(first, "start"), slurs.at(second, "stop")
            ends = slurs.ours(row, starts, stops)
            is_changed = not ends and slurs.has_partners((*starts, *stops), row.slur.number)
            yield StandingSlur(there.music.part, row.number, row.slur.to, ends, is_changed)

    def _of(self, part: Part) -> _SlursOfPart:
        if part.id not in self._parts:
            self._parts[part.id] = _SlursOfPart(part)
        return self._parts[part.id]

    def _removable(self, going: Sequence[StandingSlur]) -> list[StandingSlur]:
        """Return the slurs that can be taken out.

        Where somebody leads one end of a slur elsewhere, the whole of it is theirs now, and
        taking out the other end would leave theirs alone.
        """
        removable: list[StandingSlur] = []
        for part_id, slurs in self._parts.items():
            mine = [slur for slur in going if slur.part.id == part_id]
            while lonely := slurs.left_alone({end for slur in mine for end in slur.ends}):
                mine = [slur for slur in mine if lonely.isdisjoint(slur.ends)]
            removable += mine
        return removable


class _SlursOfPart:
    """All ends of slurs of a part, ours and theirs."""

    def __init__(self, part: Part) -> None:
        self._ends = slur_ends(part)
        self._partners = slur_partners(self._ends)

    def at(self, found: Found | None, way: str) -> list[SlurEnd]:
        """Return the ends on a placement's first chord, those that look like ours first."""
        if found is None:
            return []
        index, event = found.chain[0]
        mine = (end for end in self._ends if end.bar_index == index and end.way == way)
        mine = (end for end in mine if end.child in event.children)
        return sorted(mine, key=lambda end: not end.is_plain)

    def ours(
        self, row: PlacedRecord, starts: Sequence[SlurEnd], stops: Sequence[SlurEnd]
    ) -> tuple[SlurEnd, ...]:
        """Return which of the ends on two placements are those of the slur between them.

        Ids tell; without them a slur that leads from one to the other, first by its number;
        else what is left of it, by its number.
        """
        assert row.slur is not None  # as of every row that is asked about
        ids = slur_id(row.number, "start"), slur_id(row.slur.to, "stop")
        named = tuple(end for end in (*starts, *stops) if end.id in ids)
        if named:
            return named
        number = str(row.slur.number)
        pairs = {stop.number for stop in stops if self._partners.get(stop) in starts}
        if pairs:
            shared = number if number in pairs else min(pairs)
            return tuple(_first(side, shared) for side in (starts, stops))
        alone = (
            [end for end in side if end.number == number and end not in self._partners][:1]
            for side in (starts, stops)
        )
        return tuple(end for side in alone for end in side)

    def has_partners(self, ends: Iterable[SlurEnd], number: int) -> bool:
        """Whether any of some ends has this number and another end elsewhere."""
        return any(end.number == str(number) and end in self._partners for end in ends)

    def left_alone(self, going: Set[SlurEnd]) -> set[SlurEnd]:
        """Return which of the ends that are to go leave another alone that stays."""
        after = slur_partners(end for end in self._ends if end not in going)
        stays = (end for end in self._ends if end not in going and end not in after)
        return {self._partners[end] for end in stays if self._partners.get(end) in going}


def _first(ends: Sequence[SlurEnd], number: str) -> SlurEnd:
    return next(end for end in ends if end.number == number)

"""The rests and notes that a placement took the place of, and what stands for each of them now."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence, Set
from fractions import Fraction
from itertools import groupby
from typing import NamedTuple

from reedchord.musicxml import markup
from reedchord.musicxml.event import Event
from reedchord.musicxml.giving_back import Former
from reedchord.musicxml.part_music import PartMusic
from reedchord.placement.found import Chain, Found


class FormerEvent(NamedTuple):
    """What rests or notes lost, and the chords and rests of one bar that stand for them."""

    bar_index: int
    events: tuple[Event, ...]
    formers: tuple[Former, ...]
    is_divided: bool

    @property
    def children(self) -> frozenset[int]:
        """The places of all their notes among the bar's child elements."""
        return frozenset(child for event in self.events for child in event.children)


Chord = tuple[str, int, int]
"""Part, bar and first child of a chord."""


def chords_of(placements: Iterable[Found]) -> frozenset[Chord]:
    """Return the chords of placements that stand in the score."""
    return frozenset(
        (one.music.part.id, index, event.children[0])
        for one in placements
        if one.music is not None
        for index, event in one.chain
    )


def former_events(found: Found, free: Set[Chord] = frozenset()) -> list[FormerEvent] | None:
    """Return what is to come back, None where that is not known.

    Rests that were divided, and whose other parts are no longer rests nor chords that are
    `free`, come back as rests where the chords are.
    """
    row = found.row
    if row.was is None or found.music is None:
        return None
    if not row.lengths:
        return list(_one_by_one(row.was, found.chain))
    formers = list(map(Former, map(Fraction, row.lengths), row.was))
    pieces = _pieces(found, found.music, free)
    groups = _grouped(pieces, formers) if pieces else None
    if groups is not None:
        return groups
    if all(any(element.startswith("<rest") for element in was) for was in row.was):
        turns = len(row.turns)
        chords = [found.chain[at : at + turns] for at in range(0, len(found.chain), turns)]
        return [_rest(together) for together in chords]
    return None


def shared_former_events(going: Sequence[Found]) -> dict[int, list[FormerEvent]]:
    """Return what comes back where some placements go together, by number.

    A rest in which several of them stand comes back once, for the first of them.
    """
    free = chords_of(one for one in going if not one.row.wish.as_written)
    shared: dict[int, list[FormerEvent]] = {one.row.number: [] for one in going}
    taken: dict[tuple[str, int], list[frozenset[int]]] = {}
    wanted = [
        (one, former)
        for one in going
        if not one.row.wish.as_written
        for former in former_events(one, free) or ()
    ]
    for one, former in sorted(wanted, key=lambda row: -len(row[1].children)):
        assert one.music is not None  # as something stands for it
        there = taken.setdefault((one.music.part.id, former.bar_index), [])
        if not any(former.children <= children for children in there):
            there.append(former.children)
            shared[one.row.number].append(former)
    return shared


def _rest(chords: Chain) -> FormerEvent:
    """Return the rest that comes where a chord stands, or the two of a tremolo."""
    (bar_index, first), *others = chords
    if not others:
        return _undivided(bar_index, [first], ["<rest/>"])
    # Each looks as long as both together are.
    value = [markup.leaf("type", first.first.findtext("type") or "")]
    value += ["<dot/>" for _ in first.first.iterfind("dot")]
    length = markup.duration(_length(chords), first.divisions)
    return _undivided(bar_index, [event for _, event in chords], ["<rest/>", length, *value])


def _undivided(bar_index: int, events: Sequence[Event], was: Sequence[str]) -> FormerEvent:
    quarters = sum((event.duration_quarters for event in events), Fraction(0))
    return FormerEvent(bar_index, tuple(events), (Former(quarters, tuple(was)),), False)


def _one_by_one(was: Sequence[Sequence[str]], chain: Chain) -> Iterator[FormerEvent]:
    """Yield an event for each chord; those of a rest of several values all stand for it."""
    if len(was) == 1 and any(element.startswith("<duration") for element in was[0]):
        for bar_index, links in groupby(chain, key=lambda link: link[0]):
            yield _undivided(bar_index, [event for _, event in links], was[0])
        return
    for place, (bar_index, event) in enumerate(chain):
        yield _undivided(bar_index, [event], was[min(place, len(was) - 1)])


def _pieces(found: Found, music: PartMusic, free: Set[Chord]) -> Chain | None:
    """Return the chords with the rests around them that fill the time of the former events."""

    def gives_way(bar_index: int, event: Event) -> bool:
        return event.is_rest or (music.part.id, bar_index, event.children[0]) in free

    pieces = list(found.chain)
    before = Fraction(found.row.before)
    while before > 0:
        earlier = _before(music, *pieces[0], gives_way)
        if earlier is None:
            return None
        pieces.insert(0, (pieces[0][0], earlier))
        before -= earlier.duration_quarters
    left = sum(map(Fraction, found.row.lengths), -_length(pieces))
    while left > 0:
        following = music.next_in_voice(*pieces[-1])
        if following is None or not gives_way(*following):
            return None
        pieces.append(following)
        left -= following[1].duration_quarters
    return tuple(pieces) if before == left == 0 else None


def _length(chain: Sequence[tuple[int, Event]]) -> Fraction:
    return sum((event.duration_quarters for _, event in chain), Fraction(0))


def _before(
    music: PartMusic, bar_index: int, event: Event, gives_way: Callable[[int, Event], bool]
) -> Event | None:
    for other in music.bar(bar_index).events:
        is_same_voice = (other.voice, other.staff) == (event.voice, event.staff)
        is_right_before = is_same_voice and other.end_quarters == event.onset_quarters
        if is_right_before and gives_way(bar_index, other):
            return other
    return None


def _grouped(pieces: Chain, formers: Sequence[Former]) -> list[FormerEvent] | None:
    """Return the pieces that fill the time of each former event, None where they do not fit.

    Where a piece fills the time of several, these belong together.
    """
    groups: list[FormerEvent] = []
    waiting, coming = list(pieces), list(formers)
    while coming:
        mine, group = [coming.pop(0)], list[tuple[int, Event]]()
        while (missing := sum(it.quarters for it in mine) - _length(group)) != 0:
            if missing > 0 and waiting:
                group.append(waiting.pop(0))
            elif missing < 0 and coming and coming[0].is_whole:
                mine.append(coming.pop(0))
            else:
                return None
        if len({bar for bar, _ in group}) != 1:
            return None
        events = tuple(event for _, event in group)
        groups.append(FormerEvent(group[0][0], events, tuple(mine), True))
    return groups

"""The rests and notes that a placement took the place of, and what stands for each of them now."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import groupby
from typing import NamedTuple

from reedchord.musicxml.event import Event
from reedchord.musicxml.part_music import PartMusic
from reedchord.placement.found import Chain, Found


class FormerEvent(NamedTuple):
    """What a rest or note lost, and the chords and rests of one bar that stand for it."""

    bar_index: int
    events: tuple[Event, ...]
    was: Sequence[str]
    is_divided: bool


def former_events(found: Found) -> list[FormerEvent] | None:
    """Return what is to come back, None where that is not known.

    Rests that were divided, and whose other parts are no longer rests, come back as rests
    where the chords are.
    """
    row = found.row
    if row.was is None or found.music is None:
        return None
    if not row.lengths:
        return list(_one_by_one(row.was, found.chain))
    pieces = _pieces(found, found.music)
    groups = _grouped(pieces, [Fraction(length) for length in row.lengths]) if pieces else None
    if groups is not None:
        return [
            FormerEvent(group[0][0], tuple(event for _, event in group), was, True)
            for group, was in zip(groups, row.was, strict=True)
        ]
    if all(any(element.startswith("<rest") for element in was) for was in row.was):
        return [FormerEvent(bar, (event,), ("<rest/>",), False) for bar, event in found.chain]
    return None


def _one_by_one(was: Sequence[Sequence[str]], chain: Chain) -> Iterator[FormerEvent]:
    """Yield an event for each chord; those of a rest of several values all stand for it."""
    if len(was) == 1 and any(element.startswith("<duration") for element in was[0]):
        for bar_index, links in groupby(chain, key=lambda link: link[0]):
            yield FormerEvent(bar_index, tuple(event for _, event in links), was[0], False)
        return
    for place, (bar_index, event) in enumerate(chain):
        yield FormerEvent(bar_index, (event,), was[min(place, len(was) - 1)], False)


def _pieces(found: Found, music: PartMusic) -> Chain | None:
    """Return the chords with the rests around them that fill the time of the former events."""
    pieces = list(found.chain)
    before = Fraction(found.row.before)
    while before > 0:
        earlier = _rest_before(music, *pieces[0])
        if earlier is None:
            return None
        pieces.insert(0, (pieces[0][0], earlier))
        before -= earlier.duration_quarters
    left = sum(map(Fraction, found.row.lengths), -_length(pieces))
    while left > 0:
        following = music.next_in_voice(*pieces[-1])
        if following is None or not following[1].is_rest:
            return None
        pieces.append(following)
        left -= following[1].duration_quarters
    return tuple(pieces) if before == left == 0 else None


def _length(chain: Sequence[tuple[int, Event]]) -> Fraction:
    return sum((event.duration_quarters for _, event in chain), Fraction(0))


def _rest_before(music: PartMusic, bar_index: int, event: Event) -> Event | None:
    for other in music.bar(bar_index).events:
        is_same_voice = (other.voice, other.staff) == (event.voice, event.staff)
        if is_same_voice and other.is_rest and other.end_quarters == event.onset_quarters:
            return other
    return None


def _grouped(pieces: Chain, lengths: Sequence[Fraction]) -> list[Chain] | None:
    """Return the pieces that fill each length, None where they do not fit."""
    groups: list[Chain] = []
    waiting = list(pieces)
    for length in lengths:
        group: list[tuple[int, Event]] = []
        while waiting and _length(group) < length:
            group.append(waiting.pop(0))
        if _length(group) != length or len({bar for bar, _ in group}) != 1:
            return None
        groups.append(tuple(group))
    return groups

"""A change from one sonority to the next that there is too little time for."""

from __future__ import annotations

from collections.abc import Iterator
from math import inf

from reedchord.checks.checked_score import Turn
from reedchord.checks.example import Example
from reedchord.checks.finding import Severity
from reedchord.checks.played import Played
from reedchord.checks.rule import Problem, Rule
from reedchord.checks.words import slower
from reedchord.choosing.chain_reasons import Change, seconds_text
from reedchord.choosing.connection import MOST_HASTE, MOST_SHARE_SECONDS, SHARE_OF_LENGTH, Room

_REPEAT = '<barline><repeat direction="{}"/></barline>'


def _about(turn: Turn) -> Iterator[Problem]:
    if turn.before is not None:
        yield from _change(turn, turn.before, _room(turn.before, turn.here), "")
    for repeat in turn.over_repeats:
        room = Room(repeat.before.seconds, max(0.0, repeat.rest_seconds))
        yield from _change(turn, repeat.before, room, " over the repeat")


def _change(turn: Turn, before: Played, room: Room, how: str) -> Iterator[Problem]:
    here = turn.here
    if before.is_grace or before.sonority.saxophone != here.sonority.saxophone:
        return
    connection = turn.checked.connections.between(before.sonority, here.sonority)
    if connection is None or room.is_fresh or room.change_seconds <= 0:
        return
    haste = connection.haste(room.change_seconds)
    if haste > MOST_HASTE:
        needed = connection.needed_seconds / MOST_HASTE
        change = Change(before.sonority, here.sonority, connection, room, haste)
        yield Problem(
            f"the change from {before.name} to {here.name}{how} is too hard for the time there "
            f"is: {change.words()}; {seconds_text(needed)} s are the least",
            here.spot,
            slower(before, _share_of_tempo(room, needed)),
        )


def _room(before: Played, here: Played) -> Room:
    """Return the time for a change; between the strokes of a tremolo it is one stroke's."""
    if before.alternates and before.strokes:
        return Room(before.seconds / before.strokes, 0.0)
    return Room(before.seconds, max(0.0, here.onset_seconds - before.end_seconds))


def _share_of_tempo(room: Room, needed_seconds: float) -> float:
    """Return the part of the tempo at which there is time enough, 0 where there is none."""
    given_up = room.length_seconds * SHARE_OF_LENGTH
    longer = needed_seconds / (room.rest_seconds + given_up)
    if given_up * longer > MOST_SHARE_SECONDS:
        beyond = needed_seconds - MOST_SHARE_SECONDS
        longer = beyond / room.rest_seconds if room.rest_seconds else inf
    return 1 / longer


RULE = Rule(
    "change.too-hard",
    Severity.ERROR,
    "A change between two sonorities is too hard for the time that there is.",
    about=_about,
    swappable=True,
    passes=(
        Example("mf bell/4 knell/4", "one little finger rolls to the next key"),
        Example("f bell/1 r/1 gong/1", "far apart, with a bar of rest between"),
        Example("f C5/4 r/1 | bell/4 r/long | gong/8", "the same without a repeat"),
        Example("f bell/16 C5/4 gong/1", "a note between them has its own fingering"),
    ),
    fails=(
        Example("f bell/8 gong/4", "nearly every finger moves within a quaver"),
        Example("f gong/16 bell/4", "and back again"),
        Example(
            "f C5/4 r/1 | bell/4 r/long | gong/8",
            "from the end of a repeat to its beginning",
            edits=(
                ('<measure number="2">', f'<measure number="2">{_REPEAT.format("forward")}'),
                ("</measure></part>", f"{_REPEAT.format('backward')}</measure></part>"),
            ),
        ),
    ),
)

"""Written notes that this saxophone does not have."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.example import Example
from reedchord.checks.finding import Severity
from reedchord.checks.rule import Problem, Rule
from reedchord.checks.turn import CheckedScore, SaxophonePart
from reedchord.musicxml.bar_contents import notes_beyond
from reedchord.musicxml.event import Event
from reedchord.pitch import Pitch

ALTISSIMO_CENTS = 1200
"""So far above the keys' highest note an ordinary note is hardly meant."""


def _throughout(checked: CheckedScore) -> Iterator[Problem]:
    sonorities = {
        (played.spot.part_id, index, event.children)
        for played in checked.placements
        for index, event in played.found.chain
    }
    for part in checked.parts:
        found = [
            (bar_index, event, pitch)
            for bar_index, event, pitch in _beyond(part)
            if (part.music.part.id, bar_index, event.children) not in sonorities
        ]
        if found:
            bar_index, event, pitch = found[0]
            low = part.member and pitch.cents < part.member.lowest_written.cents
            more = f" (and {len(found) - 1} more)" if len(found) > 1 else ""
            yield Problem(
                f"written {pitch.printed()}{more} lies {'below' if low else 'far above'} what the "
                f"{part.member} has",
                part.spot(bar_index, event),
            )


def _beyond(part: SaxophonePart) -> Iterator[tuple[int, Event, Pitch]]:
    member = part.member
    if member is None:
        return
    lowest = member.lowest_written.cents
    highest = member.highest_written.cents + ALTISSIMO_CENTS
    for bar in part.music.part.bars:
        if not part.is_concert and not notes_beyond(bar.element):
            continue
        for event in part.music.bar(bar.index).events:
            if event.is_rest or event.is_cue or not event.is_pitched:
                continue
            for pitch in event.pitches:
                written = member.written(pitch) if part.is_concert else pitch
                # A quarter tone below the lowest note is a matter of the embouchure.
                if written.cents < lowest - 50 or written.cents > highest:
                    yield bar.index, event, written


RULE = Rule(
    "saxophone.range",
    Severity.ERROR,
    "A note lies beyond the range of the saxophone.",
    throughout=_throughout,
    passes=(
        Example("Bb3/4 F#6/4 C7/4", "from the lowest note to altissimo"),
        Example("A3/4", "the baritone's low A", saxophone="baritone"),
    ),
    fails=(
        Example("A3/4", "the alto has no low A"),
        Example("C5/4 A7/4", "far above altissimo"),
    ),
)

"""Written notes that this saxophone does not have."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from reedchord.checks.checked_score import CheckedScore, SaxophonePart
from reedchord.checks.example import Example
from reedchord.checks.finding import Severity
from reedchord.checks.rule import Problem, Rule
from reedchord.musicxml.bar_contents import notes_outside
from reedchord.musicxml.event import Event, pitch_of
from reedchord.musicxml.timeline import BarTimeline
from reedchord.pitch import Pitch

if TYPE_CHECKING:
    from reedchord.musicxml.event import Element

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
    ends = (member.lowest_written, member.highest_written)
    low, high = map(member.concert, ends) if part.is_concert else ends
    for bar in part.music.part.bars:
        for note in notes_outside(bar.element, low.octave + 1, high.octave):
            pitch = pitch_of(note)
            written = member.written(pitch) if part.is_concert else pitch
            # A quarter tone below the lowest note is a matter of the embouchure.
            if written.cents < lowest - 50 or written.cents > highest:
                event = _event_of(part.music.bar(bar.index), note)
                if event is not None:
                    yield bar.index, event, written


def _event_of(timeline: BarTimeline, note: Element) -> Event | None:
    """Return what a note belongs to; None for cues and grace notes."""
    events = (e for e in timeline.events if not e.is_cue and any(n is note for n in e.notes))
    return next(events, None)


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

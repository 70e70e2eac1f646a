"""What readers of a score may stumble over, said to the user and left to them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from reedchord.musicxml.accidental_state import new_misreadings
from reedchord.musicxml.part_music import PartMusic
from reedchord.musicxml.timeline import Event
from reedchord.pitch import Pitch
from reedchord.placement.placed import PlacedSonority


def reading_traps(placed: Sequence[PlacedSonority]) -> Iterator[str]:
    """Yield a sentence for everything that may be misread, with its place."""
    for done in placed:
        yield from _shared_lines(done)
        yield from _rests_in_other_voices(done)
        yield from _fingerings_already_there(done)
    yield from _changed_readings(placed)


def _shared_lines(done: PlacedSonority) -> Iterator[str]:
    for low, high in pairwise(done.sounding.tones):
        if low.pitch.staff_position >= high.pitch.staff_position:
            yield (
                f"{done.target.where}: {low.pitch} and {high.pitch} of {done.label} share a line "
                "or cross: readers draw them differently"
            )


def _rests_in_other_voices(done: PlacedSonority) -> Iterator[str]:
    """Yield rests without a fixed line beside quarter tones: one reader refuses such scores."""
    if all(tone.pitch.alteration_cents % 100 == 0 for tone in done.sounding.tones):
        return
    event = done.target.event
    for other in done.target.timeline.events:
        rest = other.first.find("rest")
        overlaps = (
            other.onset_quarters < event.end_quarters and event.onset_quarters < other.end_quarters
        )
        if rest is None or other.voice == event.voice or other.staff != event.staff:
            continue
        if overlaps and rest.find("display-step") is None:
            yield (
                f"{done.target.where}: voice {other.voice} rests beside quarter tones of "
                f"{done.label}: give that rest a fixed line, some readers refuse the score"
            )


def _fingerings_already_there(done: PlacedSonority) -> Iterator[str]:
    for note in done.target.event.notes:
        there = note.findtext("notations/technical/fingering")
        if there:
            yield (
                f"{done.target.where}: the note has the fingering {there!r} already, which "
                f"stays beside that of {done.label}"
            )


def _changed_readings(placed: Sequence[PlacedSonority]) -> Iterator[str]:
    changed: dict[tuple[str, int], dict[Event, Sequence[Pitch]]] = {}
    music: dict[str, PartMusic] = {}
    for done in placed:
        part = done.target.part
        music[part.id] = done.target.music
        pitches = [tone.pitch for tone in done.sounding.tones]
        for index, event in done.target.chain:
            # Where a tie leads on, no accidental is written.
            signed = pitches if event is done.target.event else []
            changed.setdefault((part.id, index), {})[event] = signed
    for (part_id, index), replaced in changed.items():
        timeline = music[part_id].bar(index)
        for wrong in new_misreadings(timeline, replaced):
            yield (
                f"part {music[part_id].part}, bar {timeline.bar}, beat "
                f"{timeline.beat_at(wrong.onset_quarters)}: {wrong.pitch} reads as "
                f"{wrong.read_as} after the accidentals that were placed; give it its own"
            )

"""What readers of a score may stumble over, said to the user and left to them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from reedchord.musicxml.accidental_state import Signed, new_misreadings
from reedchord.musicxml.chord_writer import divisions_for
from reedchord.placement.links import WrittenRun
from reedchord.placement.placed import PlacedSonority
from reedchord.rhythm import quarters_words


def reading_traps(placed: Sequence[PlacedSonority], written: Sequence[WrittenRun]) -> Iterator[str]:
    """Yield a sentence for everything that may be misread, with its place."""
    for done in placed:
        yield from _shared_lines(done)
        yield from _rests_in_other_voices(done)
        yield from _fingerings_already_there(done)
        yield from _cut_notes(done)
        yield from _dynamics_already_there(done)
        yield from _divided_rests(done)
        yield from _repeated_bars(done)
    yield from _changed_readings(written)
    yield from _changed_divisions(written)


def _shared_lines(done: PlacedSonority) -> Iterator[str]:
    labels = " or ".join(label for label in (done.label, done.other_label) if label)
    pairs = dict.fromkeys(pair for chord in done.chords for pair in pairwise(chord.pitches))
    for low, high in pairs:
        if low.staff_position >= high.staff_position:
            yield (
                f"{done.target.where}: {low} and {high} of {labels} share a line "
                "or cross: readers draw them differently"
            )


def _rests_in_other_voices(done: PlacedSonority) -> Iterator[str]:
    """Yield rests without a fixed line beside quarter tones: one reader refuses such scores."""
    pitches = [pitch for chord in done.chords for pitch in chord.pitches]
    if all(pitch.alteration_cents % 100 == 0 for pitch in pitches):
        return
    event, here = done.target.event, done.target.span.stretches[0]
    for other in done.target.timeline.events:
        rest = other.first.find("rest")
        overlaps = (
            other.onset_quarters < here.end_quarters and here.start_quarters < other.end_quarters
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
        if there and there.strip() != done.sonority.fingering.short():
            yield (
                f"{done.target.where}: the note has the fingering {there!r} already, which "
                f"stays beside that of {done.label}"
            )


def _dynamics_already_there(done: PlacedSonority) -> Iterator[str]:
    """Yield dynamic marks of the score at the beginning of a placement that brings its own."""
    if done.placement.dynamics is None:
        return
    for moment, direction in done.target.timeline.directions:
        staff = (direction.findtext("staff") or "1").strip()
        marks = [str(mark.tag) for mark in direction.iterfind("direction-type/dynamics/*")]
        if marks and moment == done.target.onset_quarters and staff == done.target.event.staff:
            yield (
                f"{done.target.where}: {marks[0]} stands here already and stays beside "
                f"{done.placement.dynamics}"
            )


def _cut_notes(done: PlacedSonority) -> Iterator[str]:
    cut = done.target.span.cut_quarters
    if cut:
        yield (
            f"{done.target.where}: the note there was longer: what is left of it, "
            f"{quarters_words(cut)}, becomes rests"
        )


def _divided_rests(done: PlacedSonority) -> Iterator[str]:
    for bars in done.target.divided_rests:
        first, last = (done.target.part.bars[index] for index in (bars[0], bars[-1]))
        yield f"part {done.target.part}: the multi-bar rest of bars {first} to {last} is divided"


def _repeated_bars(done: PlacedSonority) -> Iterator[str]:
    """Yield bars that repeat what was placed, by a sign in the bar after it."""
    signs = done.target.music.bars_of_repeat_signs
    for index in dict.fromkeys(index for index, _ in done.target.chain):
        bars = signs.get(index + 1)
        if bars is not None and bars[0] == index + 1:
            yield (
                f"{done.target.where}: a sign in bar {done.target.part.bars[bars[0]]} repeats the "
                f"bar before, and {done.label} with it"
            )


def _changed_readings(written: Sequence[WrittenRun]) -> Iterator[str]:
    in_bar: dict[tuple[str, int], list[WrittenRun]] = {}
    for one in written:
        if any(link.keeps_notes for link in one.links):
            continue
        in_bar.setdefault((one.run.music.part.id, one.run.bar_index), []).append(one)
    for (_, bar_index), runs in in_bar.items():
        music = runs[0].run.music
        timeline = music.bar(bar_index)
        gone = [event for one in runs for event in one.run.events]
        signed = [shown for one in runs for shown in _signed(one)]
        for wrong in new_misreadings(timeline, gone, signed):
            beat = timeline.simple_beat_at(wrong.onset_quarters)
            yield (
                f"part {music.part}, bar {timeline.bar}, beat {beat}: "
                f"{wrong.pitch.printed_as_shown()} reads as {wrong.read_as.printed_as_shown()} "
                "after the accidentals that were placed; give it its own"
            )


def _changed_divisions(written: Sequence[WrittenRun]) -> Iterator[str]:
    """Yield bars in which divisions change beside another voice: partitura misreads it."""
    for one in written:
        divisions = one.run.events[0].divisions
        timeline = one.run.music.bar(one.run.bar_index)
        if len(timeline.ends) > 1 and divisions_for(one.links, divisions) != divisions:
            yield (
                f"part {one.run.music.part}, bar {timeline.bar}: finer divisions are written "
                "inside the bar, beside another voice: some readers misplace that voice"
            )


def _signed(written: WrittenRun) -> Iterator[Signed]:
    """Yield what is written with accidentals: notes that no tie leads to."""
    for piece, link in zip(written.run.pieces, written.links, strict=True):
        pitches = [note.pitch for note in link.notes if note.shows_accidental]
        yield Signed(piece.onset_quarters, written.run.events[0].staff, pitches)

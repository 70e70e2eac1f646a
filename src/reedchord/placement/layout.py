"""What is written where: each stretch of a voice that changes, piece by piece."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise
from typing import NamedTuple

from reedchord.errors import RequestError, Where
from reedchord.metre import chord_values, rest_values
from reedchord.musicxml.event import Event
from reedchord.musicxml.event_values import grid_of, is_fixed, own_values
from reedchord.musicxml.part_music import PartMusic
from reedchord.musicxml.timeline import BarTimeline
from reedchord.placement.target import Target
from reedchord.rhythm import NoteValue, quarters_words


class Piece(NamedTuple):
    """One chord or rest to be written; `owner` is the placement's index, None for a rest.

    `value` None keeps the notation of the event that is there; `is_other` says that it is
    the turn of the sonority with which the placement's own alternates.
    """

    onset_quarters: Fraction
    quarters: Fraction
    value: NoteValue | None
    owner: int | None = None
    step: int = 0
    is_other: bool = False


class Run(NamedTuple):
    """Events that follow one another with nothing between, and the pieces in their place."""

    music: PartMusic
    bar_index: int
    events: tuple[Event, ...]
    pieces: tuple[Piece, ...]


class Rhythm(NamedTuple):
    """How long the steps of a course last, and whether two sonorities take turns in them."""

    steps: tuple[Fraction, ...]
    alternates: bool = False


class _Sound(NamedTuple):
    """One step of one placement in one bar."""

    owner: int
    step: int
    alternates: bool
    start: Fraction
    end: Fraction


_BarVoice = tuple[str, int, str, str]
"""Part, bar, voice and staff."""


def layout(wanted: Sequence[tuple[Target, Rhythm]]) -> list[Run]:
    """Return what changes, in no particular order.

    Raises RequestError with the place where no note values fill a piece.
    """
    runs: list[Run] = []
    divided: dict[_BarVoice, list[int]] = {}
    for owner, (target, rhythm) in enumerate(wanted):
        if target.keeps_rhythm and len(rhythm.steps) == 1 and not rhythm.alternates:
            runs += _as_it_is(owner, target)
            continue
        for bar_index in dict.fromkeys(bar for bar, _ in target.chain):
            voice, staff = target.event.voice, target.event.staff
            divided.setdefault((target.part.id, bar_index, voice, staff), []).append(owner)
    for (_, bar_index, _, _), owners in divided.items():
        mine = {owner: wanted[owner] for owner in owners}
        runs += _divided(bar_index, mine)
    return runs


def _as_it_is(owner: int, target: Target) -> Iterator[Run]:
    """Yield a run for every event, so that each keeps its place and notation."""
    for bar_index, event in target.chain:
        values = None if target.keeps_notes else own_values(event)
        if values is None or len(values) == 1:
            value = values[0] if values else None
            pieces = [Piece(event.onset_quarters, event.duration_quarters, value, owner)]
        else:
            pieces = _pieces(event.onset_quarters, values, owner, 0)
        yield Run(target.music, bar_index, (event,), tuple(pieces))


def _divided(bar_index: int, owners: dict[int, tuple[Target, Rhythm]]) -> Iterator[Run]:
    some, _ = next(iter(owners.values()))
    sounds = sorted(
        (
            sound
            for owner, (target, rhythm) in owners.items()
            for sound in _sounds(owner, target, rhythm, bar_index)
        ),
        key=lambda sound: sound.start,
    )
    events = {
        event.onset_quarters: event
        for target, _ in owners.values()
        for index, event in target.chain
        if index == bar_index
    }
    heads = {target.event for target, _ in owners.values() if not target.event.is_rest}
    timeline = some.music.bar(bar_index)
    for run in _adjacent([events[onset] for onset in sorted(events)], heads):
        where = Where(
            part=str(some.part),
            bar=str(timeline.bar),
            beat=timeline.beat_at(run[0].onset_quarters),
        )
        try:
            pieces = _fixed(run[0], sounds) if is_fixed(run[0]) else _spelled(timeline, run, sounds)
        except RequestError as error:
            raise error.at(where) from None
        yield Run(some.music, bar_index, tuple(run), tuple(pieces))


def _sounds(owner: int, target: Target, rhythm: Rhythm, bar_index: int) -> Iterator[_Sound]:
    """Yield the steps of a placement that fall into a bar."""
    steps = rhythm.steps
    ends = [sum(steps[:count], Fraction(0)) for count in range(len(steps) + 1)]
    before = Fraction(0)
    for stretch in target.span.stretches:
        shift = stretch.start_quarters - before
        before += stretch.quarters
        if stretch.bar_index != bar_index:
            continue
        for step, (start, end) in enumerate(pairwise(ends)):
            first = max(start + shift, stretch.start_quarters)
            last = min(end + shift, stretch.end_quarters)
            if first < last:
                yield _Sound(owner, step, rhythm.alternates, first, last)


def _adjacent(events: Sequence[Event], heads: set[Event]) -> Iterator[list[Event]]:
    """Yield events in groups that nothing stands between; notes to begin on begin a group."""
    run: list[Event] = []
    for event in events:
        apart = run and (
            run[-1].children[-1] + 1 != event.children[0]
            or run[-1].end_quarters != event.onset_quarters
        )
        if run and (apart or event in heads or is_fixed(event) or is_fixed(run[-1])):
            yield run
            run = []
        run.append(event)
    if run:
        yield run


def _fixed(event: Event, sounds: Sequence[_Sound]) -> list[Piece]:
    mine = [sound for sound in sounds if sound.start < event.end_quarters]
    mine = [sound for sound in mine if sound.end > event.onset_quarters]
    if any(sound.alternates for sound in mine):
        raise RequestError(
            "rhythm.tremolo-inside",
            "a tremolo of two sonorities would stand inside a tuplet or under a beam",
            hint="Choose a rest or a note without them.",
        )
    if len(mine) > 1:
        raise RequestError(
            "rhythm.step-inside",
            "a step of the sonority would fall inside a note of a tuplet or beam",
            hint="Give steps that begin where notes of the tuplet or beam begin.",
        )
    values = own_values(event)
    value = values[0] if values else None
    return [
        Piece(event.onset_quarters, event.duration_quarters, value, s.owner, s.step) for s in mine
    ]


def _spelled(
    timeline: BarTimeline, run: Sequence[Event], sounds: Sequence[_Sound]
) -> Iterator[Piece]:
    """Yield chords where something sounds and rests elsewhere, spelled by the metre."""
    grid = grid_of(timeline)
    for start, end, sound in _intervals(run, sounds):
        values = (rest_values if sound is None else chord_values)(grid, start, end)
        if values is None:
            usual = (NoteValue(name).words(plural=True) for name in ("half", "quarter", "eighth"))
            raise RequestError(
                "rhythm.no-value",
                f"there is no note value outside a tuplet for {quarters_words(end - start)} "
                f"from beat {timeline.beat_at(start)} on",
                hint=f"Choose a beginning and a length in {', '.join(usual)} and so on.",
            )
        if sound is None:
            yield from _pieces(start, values, None, 0)
        elif sound.alternates:
            yield from _turns(start, values, sound.owner)
        else:
            yield from _pieces(start, values, sound.owner, sound.step)


def _intervals(
    run: Sequence[Event], sounds: Sequence[_Sound]
) -> Iterator[tuple[Fraction, Fraction, _Sound | None]]:
    """Yield the stretches of a run: sounds, and what is left of each event between them."""
    moment, stop = run[0].onset_quarters, run[-1].end_quarters
    for sound in sounds:
        start, end = max(sound.start, moment), min(sound.end, stop)
        if start >= end:
            continue
        yield from _rests(run, moment, start)
        yield start, end, sound
        moment = end
    yield from _rests(run, moment, stop)


def _rests(
    run: Sequence[Event], start: Fraction, end: Fraction
) -> Iterator[tuple[Fraction, Fraction, None]]:
    for event in run:
        first, last = max(start, event.onset_quarters), min(end, event.end_quarters)
        if first < last:
            yield first, last, None


def _turns(onset: Fraction, values: Sequence[NoteValue], owner: int) -> Iterator[Piece]:
    """Yield two pieces for each value, each half as long as it looks (MusicXML's tremolo)."""
    for value in values:
        half = value.quarters / 2
        yield Piece(onset, half, value, owner)
        yield Piece(onset + half, half, value, owner, is_other=True)
        onset += value.quarters


def _pieces(
    onset: Fraction, values: Sequence[NoteValue], owner: int | None, step: int
) -> list[Piece]:
    pieces = []
    for value in values:
        pieces.append(Piece(onset, value.quarters, value, owner, step))
        onset += value.quarters
    return pieces

"""The stretch of a voice that a sonority takes when it is said how long it lasts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import NamedTuple

from reedchord.errors import RequestError
from reedchord.lasting import End, Lasting
from reedchord.musicxml.event import Event
from reedchord.musicxml.event_values import is_fixed
from reedchord.musicxml.part_music import PartMusic
from reedchord.musicxml.timeline import BarTimeline
from reedchord.placement.refusals import refuse_event

Chain = tuple[tuple[int, Event], ...]
"""Events one after the other, each with the index of its bar."""


class Stretch(NamedTuple):
    """Part of one bar in which a sonority sounds, in quarter notes from the bar's start."""

    bar_index: int
    start_quarters: Fraction
    end_quarters: Fraction

    @property
    def quarters(self) -> Fraction:
        """How long it is."""
        return self.end_quarters - self.start_quarters


class Span(NamedTuple):
    """The events that give way, and where the sonority sounds in their time.

    `cut_quarters` is what becomes rest of a note that lasted longer.
    """

    events: Chain
    stretches: tuple[Stretch, ...]
    cut_quarters: Fraction = Fraction(0)

    @property
    def quarters(self) -> Fraction:
        """How long the sonority lasts, all bars together."""
        return sum((stretch.quarters for stretch in self.stretches), Fraction(0))


def natural_span(chain: Chain) -> Span:
    """Return the span of a sonority that lasts as long as what is there."""
    return Span(
        chain, tuple(Stretch(bar, event.onset_quarters, event.end_quarters) for bar, event in chain)
    )


def lasting_span(
    music: PartMusic, chain: Chain, onset_quarters: Fraction, lasting: Lasting
) -> Span:
    """Return the span that begins in a chain's first event and lasts as long as is said.

    Raises RequestError where a note, a gap or the score's end is in its way, and where it
    would divide a tuplet or a beam.
    """
    bar_index, event = chain[0]
    natural = natural_span(chain)
    walk = _Walk(music, chain, _end_in_bars(music, lasting) if isinstance(lasting, End) else None)
    left = None if isinstance(lasting, End) else lasting.quarters
    events, stretches = walk.taken(bar_index, onset_quarters, left)
    span = Span(tuple(events), tuple(stretches))
    if span.events == chain and span.quarters == natural.quarters:
        return natural
    if event.onset_quarters == onset_quarters and not event.is_rest:
        beyond = chain[sum(1 for link in chain if link in events) :]
        cut = max(natural.quarters - span.quarters, Fraction(0))
        _refuse_marks(beyond)
        span = Span((*events, *beyond), tuple(stretches), cut)
    for index, taken in span.events:
        refuse_event(music, index, taken)
    _refuse_divided(music, span)
    _refuse_other_transposition(music, span)
    return span


def _end_in_bars(music: PartMusic, end: End) -> tuple[int, Fraction]:
    bar = music.part.bar(end.bar)
    timeline = music.bar(bar.index)
    onset = timeline.onset_of(end.beat)
    if onset > _length(timeline):
        raise RequestError(
            "lasting.end",
            f"bar {bar} has no beat {timeline.beat_at(onset)} to last to",
            hint=f"It ends on beat {timeline.beat_at(_length(timeline))}.",
        )
    return bar.index, onset


def _length(timeline: BarTimeline) -> Fraction:
    return max(timeline.ends.values(), default=Fraction(0))


class _Walk:
    """Goes through a voice from rest to rest, or through the chain of ties that gives way."""

    def __init__(self, music: PartMusic, chain: Chain, end: tuple[int, Fraction] | None) -> None:
        self._music = music
        self._chain = chain
        self._voice = chain[0][1].voice, chain[0][1].staff
        self._end = end

    def taken(
        self, bar_index: int, onset_quarters: Fraction, left: Fraction | None
    ) -> tuple[list[tuple[int, Event]], list[Stretch]]:
        """Return the events of the span, and where it sounds; `left` is how long, if known."""
        if self._end is not None and self._end <= (bar_index, onset_quarters):
            raise RequestError(
                "lasting.end",
                "the sonority would end before it begins",
                hint="Name a later bar or beat to last to.",
            )
        events: list[tuple[int, Event]] = []
        stretches: list[Stretch] = []
        start = onset_quarters
        while True:
            stop = self._stop(bar_index, start, left)
            mine = list(self._events(bar_index, start, stop))
            events += [(bar_index, event) for event in mine]
            if stop > start:
                stretches.append(Stretch(bar_index, start, stop))
            left = None if left is None else left - (stop - start)
            if left == 0 or (self._end is not None and self._end[0] == bar_index):
                return events, stretches
            bar_index, start = bar_index + 1, Fraction(0)
            self._refuse_past_end(bar_index)

    def _stop(self, bar_index: int, start: Fraction, left: Fraction | None) -> Fraction:
        """Return where the span ends in this bar, or the bar itself."""
        if self._end is not None and self._end[0] == bar_index:
            return self._end[1]
        length = _length(self._music.bar(bar_index))
        return length if left is None else min(length, start + left)

    def _events(self, bar_index: int, start: Fraction, stop: Fraction) -> Iterator[Event]:
        timeline = self._music.bar(bar_index)
        mine = [
            event
            for event in timeline.events
            if (event.voice, event.staff) == self._voice and event.duration_quarters
        ]
        moment = start
        while moment < stop:
            event = next((event for event in mine if event.covers(moment)), None)
            if event is None or (moment > start and event.onset_quarters < moment):
                raise _gap(timeline, moment, self._voice)
            is_free = event.is_rest and not event.is_cue
            if not is_free and (bar_index, event) not in self._chain:
                raise _in_the_way(timeline, event)
            yield event
            moment = event.end_quarters
        for grace in timeline.graces:
            is_mine = (grace.voice, grace.staff) == self._voice
            after_start = grace.onset_quarters > start or bar_index > self._chain[0][0]
            if is_mine and after_start and grace.onset_quarters < stop:
                raise _in_the_way(timeline, grace)

    def _refuse_past_end(self, bar_index: int) -> None:
        if bar_index >= len(self._music.part.bars):
            raise RequestError(
                "lasting.past-end",
                "the score ends before the sonority would",
                hint="Let it last shorter.",
            )


def _gap(timeline: BarTimeline, moment: Fraction, voice: tuple[str, str]) -> RequestError:
    return RequestError(
        "lasting.gap",
        f"voice {voice[0]} on staff {voice[1]} has neither rest nor note on bar {timeline.bar}, "
        f"beat {timeline.beat_at(moment)}, before the sonority ends",
        hint="Write rests there first, or let it last shorter.",
    )


def _in_the_way(timeline: BarTimeline, event: Event) -> RequestError:
    what = "a cue" if event.is_cue else "a grace note" if event.is_grace else "a note"
    beat = timeline.simple_beat_at(event.onset_quarters)
    return RequestError(
        "lasting.note-in-the-way",
        f"{what} begins on bar {timeline.bar}, beat {beat}, before the sonority ends",
        hint=f"Let it last until there (to bar {timeline.bar.label} beat {beat}), or take that "
        "note out first.",
    )


def _refuse_marks(beyond: Sequence[tuple[int, Event]]) -> None:
    """Raise RequestError where tied notes that become rests carry something."""
    for _, event in beyond:
        for note in event.notes:
            marks = [str(mark.tag) for mark in note.iterfind("notations/*") if mark.tag != "tied"]
            marks += ["lyric"] if note.find("lyric") is not None else []
            if marks:
                raise RequestError(
                    "lasting.marks",
                    f"a tied note that would become a rest has a <{marks[0]}>",
                    hint="Let the sonority last as long as the whole chain of ties.",
                )


def _refuse_divided(music: PartMusic, span: Span) -> None:
    """Raise RequestError where a tuplet's member or a beamed note would be divided."""
    for index, event in span.events:
        if not is_fixed(event):
            continue
        covered = any(
            stretch.bar_index == index
            and stretch.start_quarters <= event.onset_quarters
            and event.end_quarters <= stretch.end_quarters
            for stretch in span.stretches
        )
        if not covered:
            timeline = music.bar(index)
            raise RequestError(
                "lasting.divides",
                "the sonority would begin or end inside a note of a tuplet or beam, on bar "
                f"{timeline.bar}, beat {timeline.beat_at(event.onset_quarters)}",
                hint="Let it begin and end where such a note begins or ends.",
            )


def _refuse_other_transposition(music: PartMusic, span: Span) -> None:
    transposes = [
        music.bar(index).state_at(event.onset_quarters).transpose(event.staff)
        for index, event in span.events
    ]
    if any(transpose != transposes[0] for transpose in transposes):
        raise RequestError(
            "lasting.transposition",
            "the part's transposition changes before the sonority ends",
            hint="Let it end there.",
        )

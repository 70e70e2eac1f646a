"""From an address in a score to the notes and rests that a sonority takes the place of."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import NamedTuple

from reedchord.errors import RequestError, Where
from reedchord.musicxml.document import Bar, Part, Score
from reedchord.musicxml.event import Event
from reedchord.musicxml.event_values import own_values
from reedchord.musicxml.part_music import PartMusic
from reedchord.musicxml.timeline import BarTimeline
from reedchord.placement.plan import MAX_GRACES, Placement
from reedchord.placement.refusals import refuse_broken_ties, refuse_event, refuse_hiding_bars
from reedchord.placement.saxophone_of_part import PartPitch, part_pitch
from reedchord.placement.span import Chain, Span, lasting_span, natural_span
from reedchord.rhythm import parse_beat

TargetKey = tuple[str, int, Fraction, str, str, int]
"""Part, bar, moment, voice, staff, and the number of a grace note, else 0."""


class Target(NamedTuple):
    """What one placement takes the place of: part of a voice, from its address on."""

    part: Part
    part_index: int
    music: PartMusic
    bar: Bar
    beat: str
    """Its beat to the last fraction, as the score counts it."""
    span: Span
    pitch: PartPitch
    grace: int = 0
    keeps_notes: bool = False
    """Whether its notes stay, and are only marked as those of a sonority."""

    @property
    def chain(self) -> Chain:
        """The events that give way, wholly or in part, each with its bar's index."""
        return self.span.events

    @property
    def event(self) -> Event:
        """The rest, note or chord at the address itself."""
        return self.chain[0][1]

    @property
    def timeline(self) -> BarTimeline:
        """The bar of the address."""
        return self.music.bar(self.bar.index)

    @property
    def onset_quarters(self) -> Fraction:
        """Where the sonority begins, in quarter notes from its bar's start."""
        return self.span.stretches[0].start_quarters

    @property
    def keeps_rhythm(self) -> bool:
        """Whether it lasts as long as what is there, tie by tie."""
        return self.span == natural_span(self.chain)

    @property
    def divided_rests(self) -> tuple[range, ...]:
        """The multi-bar rests of which some bars are to sound."""
        found = (self.music.multi_bar_rests.get(index) for index, _ in self.chain)
        return tuple(dict.fromkeys(bars for bars in found if bars is not None))

    @property
    def touched_bars(self) -> frozenset[int]:
        """Indices of the bars in which anything may change."""
        rests = (index for bars in self.divided_rests for index in bars)
        return frozenset([index for index, _ in self.chain] + list(rests))

    @property
    def key(self) -> TargetKey:
        """What two placements at the same place have in common."""
        event = self.event
        moment = self.bar.index, self.onset_quarters
        return self.part.id, *moment, event.voice, event.staff, self.grace

    @property
    def order(self) -> tuple[int, Fraction, int, int]:
        """Place in the score as one reads it: bar, moment, grace notes first, part."""
        grace = self.grace - MAX_GRACES if self.grace else 0
        return self.bar.index, self.onset_quarters, grace, self.part_index

    @property
    def duration_quarters(self) -> Fraction:
        """How long it lasts, all ties together."""
        return self.span.quarters

    @property
    def where(self) -> Where:
        """The address in words."""
        beat = self.timeline.simple_beat_at(self.onset_quarters)
        return Where(part=str(self.part), bar=str(self.bar), beat=beat)

    def overlaps(self, other: Target) -> bool:
        """Whether both want to sound in the same voice at the same time."""
        if self.part.id != other.part.id or self.grace or other.grace:
            return self.key == other.key
        if (self.event.voice, self.event.staff) != (other.event.voice, other.event.staff):
            return False
        return any(
            one.bar_index == two.bar_index
            and one.start_quarters < two.end_quarters
            and two.start_quarters < one.end_quarters
            for one in self.span.stretches
            for two in other.span.stretches
        )


FIRST_VERSION_WITH_TREMOLOS = (2, 0)
"""Tremolos of two notes (from memory; the 4.0 schema hints at it: `single` is for 1.1)."""
_SpanFinder = Callable[[PartMusic, Bar, Event, Fraction, Placement], Span]


class Targets:
    """Finds the targets of many placements in one score, reading each part once."""

    def __init__(self, score: Score) -> None:
        self._score = score
        self._music: dict[str, PartMusic] = {}

    def find(self, placement: Placement) -> Target:
        """Return what a placement takes the place of.

        Raises RequestError or InputError with part, bar and beat.
        """
        return self._found(placement, _span)

    def find_address(self, placement: Placement) -> Target:
        """Return the one event at a placement's address, whether or not it may give way.

        Raises as `find` does where nothing begins there.
        """
        return self._found(placement, _span_of_event)

    def _found(self, placement: Placement, span: _SpanFinder) -> Target:
        part = self._score.part(placement.part)
        where = Where(part=str(part), bar=placement.bar, beat=placement.beat)
        try:
            if placement.other is not None and self._score.version < FIRST_VERSION_WITH_TREMOLOS:
                raise _no_tremolos(self._score)
            return self._find(placement, part, span)
        except RequestError as error:
            raise error.at(where) from None

    def _find(self, placement: Placement, part: Part, span: _SpanFinder) -> Target:
        music = self._music.setdefault(part.id, PartMusic(part))
        bar = part.bar(placement.bar)
        timeline = music.bar(bar.index)
        onset = timeline.onset_of(parse_beat(placement.beat))
        staff = _staff_there(timeline, onset, placement)
        pitch = part_pitch(
            self._score, part, timeline.state_at(onset).transpose(staff), placement.saxophone
        )
        event = _event(timeline, onset, placement)
        return Target(
            part,
            self._score.parts.index(part),
            music,
            bar,
            timeline.beat_at(onset),
            span(music, bar, event, onset, placement),
            pitch,
            placement.grace or 0,
            placement.as_written,
        )


def _no_tremolos(score: Score) -> RequestError:
    declared = ".".join(map(str, score.version))
    return RequestError(
        "course.version",
        f"the score is MusicXML {declared}, which knows no tremolo of two notes",
        hint='If its programs read newer versions, write version="3.1" into its first tag.',
    )


def _event(timeline: BarTimeline, onset: Fraction, placement: Placement) -> Event:
    voice, staff = placement.voice, placement.staff
    if placement.grace is not None:
        return timeline.grace_at(onset, placement.grace, voice=voice, staff=staff)
    inside = placement.lasting is not None
    return timeline.event_at(onset, voice=voice, staff=staff, inside_rests=inside)


def _span(music: PartMusic, bar: Bar, event: Event, onset: Fraction, placement: Placement) -> Span:
    if placement.as_written:
        return _span_of_notes(music, bar, event)
    if event.is_grace:
        if placement.lasting is not None:
            raise RequestError(
                "lasting.grace", "a grace note lasts no time of its own", hint="Leave --for out."
            )
        chain: Chain = ((bar.index, event),)
    else:
        chain = tuple(music.tied_from(bar.index, event))
        refuse_broken_ties(music, bar.index, chain)
    for index, link in chain:
        refuse_event(music, index, link)
    if placement.lasting is None and event.is_rest:
        own_values(event)
    lasting = placement.lasting
    span = lasting_span(music, chain, onset, lasting) if lasting else natural_span(chain)
    refuse_hiding_bars(music, [index for index, _ in span.events])
    return span


def _span_of_notes(music: PartMusic, bar: Bar, event: Event) -> Span:
    """Return the span of notes that stay, and of all that they are tied on to as a whole."""
    if event.is_rest or not event.is_pitched:
        what = "a rest" if event.is_rest else "a note without pitch"
        raise RequestError(
            "as-written.no-notes",
            f"{what} stands here, and no notes that could be those of a sonority",
            hint="Leave as_written out, so that the sonority is written here.",
        )
    return natural_span(tuple(music.tied_from(bar.index, event)))


def _span_of_event(
    _music: PartMusic, bar: Bar, event: Event, _onset: Fraction, _placement: Placement
) -> Span:
    return natural_span(((bar.index, event),))


def _staff_there(timeline: BarTimeline, onset: Fraction, placement: Placement) -> str:
    """Return the staff of what is here; a part's own is told before the address is judged."""
    if placement.staff is not None:
        return placement.staff
    staves = {
        event.staff
        for event in timeline.events
        if event.covers(onset) and not event.is_cue and placement.voice in (None, event.voice)
    }
    return staves.pop() if len(staves) == 1 else "1"

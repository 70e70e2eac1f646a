"""From an address in a score to the notes and rests that a sonority takes the place of."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from reedchord.errors import RequestError, Where
from reedchord.musicxml.chord_writer import links_of
from reedchord.musicxml.document import Bar, Part, Score
from reedchord.musicxml.part_music import PartMusic
from reedchord.musicxml.timeline import BarTimeline, Event
from reedchord.placement.plan import Placement
from reedchord.placement.saxophone_of_part import PartPitch, part_pitch
from reedchord.rhythm import parse_beat

TargetKey = tuple[str, int, Fraction, str, str]
"""Part, bar, moment, voice and staff."""


@dataclass(frozen=True)
class Target:
    """What one placement takes the place of: an event, and all that it is tied on to."""

    part: Part
    part_index: int
    music: PartMusic
    bar: Bar
    beat: str
    chain: tuple[tuple[int, Event], ...]
    pitch: PartPitch

    @property
    def event(self) -> Event:
        """The rest, note or chord at the address itself."""
        return self.chain[0][1]

    @property
    def timeline(self) -> BarTimeline:
        """The bar of the address."""
        return self.music.bar(self.bar.index)

    @property
    def key(self) -> TargetKey:
        """What two placements at the same place have in common."""
        event = self.event
        return self.part.id, self.bar.index, event.onset_quarters, event.voice, event.staff

    @property
    def order(self) -> tuple[int, Fraction, int]:
        """Place in the score as one reads it: bar, moment, part."""
        return self.bar.index, self.event.onset_quarters, self.part_index

    @property
    def duration_quarters(self) -> Fraction:
        """How long it lasts, all ties together."""
        return sum((event.duration_quarters for _, event in self.chain), Fraction(0))

    @property
    def links(self) -> int:
        """How many tied chords are written."""
        return sum(links_of(event) for _, event in self.chain)

    @property
    def where(self) -> Where:
        """The address in words."""
        return Where(part=str(self.part), bar=str(self.bar), beat=self.beat)


class Targets:
    """Finds the targets of many placements in one score, reading each part once."""

    def __init__(self, score: Score) -> None:
        self._score = score
        self._music: dict[str, PartMusic] = {}

    def find(self, placement: Placement) -> Target:
        """Return what a placement takes the place of.

        Raises RequestError or InputError with part, bar and beat.
        """
        part = self._score.part(placement.part)
        where = Where(part=str(part), bar=placement.bar, beat=placement.beat)
        try:
            return self._find(placement, part)
        except RequestError as error:
            raise error.at(where) from None

    def _find(self, placement: Placement, part: Part) -> Target:
        music = self._music.setdefault(part.id, PartMusic(part))
        bar = part.bar(placement.bar)
        timeline = music.bar(bar.index)
        onset = timeline.onset_of(parse_beat(placement.beat))
        staff = _staff_there(timeline, onset, placement)
        pitch = part_pitch(
            self._score, part, timeline.state_at(onset).transpose(staff), placement.saxophone
        )
        event = timeline.event_at(onset, voice=placement.voice, staff=placement.staff)
        chain = music.tied_from(bar.index, event)
        _refuse_broken_ties(music, bar.index, chain)
        _refuse_hidden_bars(music, chain)
        _refuse_unclear_notes(chain)
        _refuse(music, timeline, event)
        return Target(
            part,
            self._score.parts.index(part),
            music,
            bar,
            timeline.beat_at(onset),
            tuple(chain),
            pitch,
        )


def _staff_there(timeline: BarTimeline, onset: Fraction, placement: Placement) -> str:
    """Return the staff of what begins here; a part's own is told before the address is judged."""
    if placement.staff is not None:
        return placement.staff
    staves = {
        event.staff
        for event in timeline.events
        if event.onset_quarters == onset
        and not event.is_cue
        and placement.voice in (None, event.voice)
    }
    return staves.pop() if len(staves) == 1 else "1"


def _refuse_broken_ties(
    music: PartMusic, bar_index: int, chain: Sequence[tuple[int, Event]]
) -> None:
    """Raise RequestError where ties lead in, or lead on from some notes of a chord only."""
    before = music.tied_into(bar_index, chain[0][1])
    if before is not None:
        bar = music.bar(before[0])
        raise RequestError(
            "address.inside",
            "this note is tied to the one before it",
            hint=f"Place the sonority on bar {bar.bar}, beat "
            f"{bar.beat_at(before[1].onset_quarters)}: it takes the whole chain of ties.",
        )
    last_bar, last = chain[-1]
    following = music.next_in_voice(last_bar, last) if last.is_tied("start") else None
    if following is not None and following[1].is_tied("stop"):
        bar = music.bar(following[0])
        raise RequestError(
            "address.tie",
            "only some notes are tied on to the next chord, in bar "
            f"{bar.bar}, beat {bar.beat_at(following[1].onset_quarters)}",
            hint="Tie all of its notes, or none, so that it is clear what the sonority takes.",
        )


def _refuse_hidden_bars(music: PartMusic, chain: Sequence[tuple[int, Event]]) -> None:
    """Raise RequestError under a multi-bar rest: verovio draws it and not the chord (measured)."""
    for index, _ in chain:
        bars = music.multi_bar_rests.get(index)
        if bars is not None:
            first, last = (music.part.bars[bar] for bar in (bars[0], bars[-1]))
            raise RequestError(
                "address.multi-bar-rest",
                f"bars {first} to {last} are one multi-bar rest, which would hide the chord",
                hint="Divide the multi-bar rest in the score first.",
            )


def _refuse_unclear_notes(chain: Sequence[tuple[int, Event]]) -> None:
    """Raise RequestError where a note says twice what it is: readers differ on such notes."""
    for _, event in chain:
        for note in event.notes:
            said = [str(child.tag) for child in note.iterchildren("pitch", "unpitched", "rest")]
            if len(said) > 1:
                raise RequestError(
                    "address.unclear-note",
                    f"a note here holds <{said[0]}> and <{said[1]}> at once",
                    hint="Mend it in the score first.",
                )


def _refuse(music: PartMusic, timeline: BarTimeline, event: Event) -> None:
    """Raise RequestError where a chord in place of this event would break something."""
    if event.first.get("print-object") == "no":
        raise RequestError(
            "address.hidden",
            "this rest or note is hidden in the score, and a chord in its place would be too",
            hint="Show it in the score first, or choose another voice.",
        )
    if not event.is_rest and not event.is_pitched:
        raise RequestError("address.unpitched", "this is a note without pitch")
    if (
        event.is_rest
        and event.first.find("beam") is None
        and _is_under_beam(music, timeline.bar.index, event)
    ):
        raise RequestError(
            "address.beam",
            "a chord in place of this rest would split a beam",
            hint="Choose another place, or break the beam in the score first.",
        )
    if event.is_rest:
        links_of(event)


def _is_under_beam(music: PartMusic, bar_index: int, rest: Event) -> bool:
    """Whether a beam leads over a rest from the note before it to the next, over barlines too."""
    return _next_beam(_after(music, bar_index, rest)) in ("continue", "end") and _next_beam(
        _before(music, bar_index, rest)
    ) in ("begin", "continue")


def _next_beam(events: Iterator[Event]) -> str | None:
    """Return the beam of the first note, or of the first rest that has one."""
    for event in events:
        beam = event.first.findtext("beam")
        if beam or not event.is_rest:
            return beam
    return None


def _after(music: PartMusic, bar_index: int, event: Event) -> Iterator[Event]:
    here = _voice(music, bar_index, event.voice)
    yield from here[here.index(event) + 1 :]
    yield from _voice(music, bar_index + 1, event.voice)


def _before(music: PartMusic, bar_index: int, event: Event) -> Iterator[Event]:
    here = _voice(music, bar_index, event.voice)
    yield from reversed(here[: here.index(event)])
    yield from reversed(_voice(music, bar_index - 1, event.voice))


def _voice(music: PartMusic, bar_index: int, voice: str) -> list[Event]:
    if not 0 <= bar_index < len(music.part.bars):
        return []
    return [event for event in music.bar(bar_index).events if event.voice == voice]

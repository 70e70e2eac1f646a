"""Where every note and rest of a bar begins, how long it lasts, and what it hangs on."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from reedchord.errors import InputError, RequestError, Where
from reedchord.musicxml.bar_state import BarState, decimal_number, signed_number
from reedchord.musicxml.document import LONGEST_NAME, Bar
from reedchord.musicxml.event import Event
from reedchord.rhythm import beat_text, simple_moment

if TYPE_CHECKING:
    from lxml.etree import _Element


FINEST_TIME = 10**40
"""Parts of a quarter note beyond which times are not counted: they would fill the memory."""
MAX_BAR_ELEMENTS = 10_000
"""Notes and their like in one bar; the longest cadenzas have hundreds."""


class BarTimeline(NamedTuple):
    """The events of one bar, and what holds at its start and at each change inside."""

    bar: Bar
    state: BarState
    events: tuple[Event, ...]
    changes: tuple[tuple[Fraction, BarState], ...]
    ends: dict[str, Fraction]
    """Where each voice ends, in quarter notes from the bar's start."""
    graces: tuple[Event, ...] = ()
    """Grace notes and chords of them, which take no time, in document order."""
    directions: tuple[tuple[Fraction, _Element], ...] = ()
    """Each `<direction>` and `<sound>` with the moment at which it stands."""

    def state_at(self, onset_quarters: Fraction) -> BarState:
        """Return what holds at a moment of the bar."""
        state = self.state
        for moment, changed in self.changes:
            if moment <= onset_quarters:
                state = changed
        return state

    def beat_at(self, onset_quarters: Fraction) -> str:
        """Return a moment of the bar as a beat, as people count."""
        return beat_text(1 + onset_quarters / self.opening_state.beat_quarters)

    @property
    def opening_state(self) -> BarState:
        """What holds on the first beat, attributes that stand there included."""
        return self.state_at(Fraction(0))

    def simple_beat_at(self, onset_quarters: Fraction) -> str:
        """Return a moment as the beat that is meant: 3+1/3 where the score counts 3+85/256."""
        return self.beat_at(simple_moment(onset_quarters))

    def onset_of(self, beat: Fraction) -> Fraction:
        """Return where a beat, counted from 1, lies in quarter notes from the bar's start.

        A beat at which nothing begins, as the score rounds it, is where the score has it.
        """
        onset = (beat - 1) * self.opening_state.beat_quarters
        begins = {event.onset_quarters for event in (*self.events, *self.graces)}
        meant = [moment for moment in begins if simple_moment(moment) == onset]
        return meant[0] if onset not in begins and len(meant) == 1 else onset

    def event_at(
        self,
        onset_quarters: Fraction,
        *,
        voice: str | None = None,
        staff: str | None = None,
        inside_rests: bool = False,
    ) -> Event:
        """Return the one event that begins here, grace and cue notes aside.

        With `inside_rests` a rest counts also where it began before. Raises RequestError when
        nothing begins here, or more than one voice does.
        """
        mine = [event for event in self._of(voice, staff, self.events) if not event.is_cue]
        found = [event for event in mine if event.onset_quarters == onset_quarters]
        if inside_rests and not found:
            found = [event for event in mine if event.is_rest and event.covers(onset_quarters)]
        if len(found) == 1:
            return found[0]
        if found:
            raise self._several_voices(found)
        if not mine and self.events:
            raise self._nothing_of_this_voice()
        raise self._nothing_begins(onset_quarters, mine)

    def grace_at(
        self,
        onset_quarters: Fraction,
        number: int,
        *,
        voice: str | None = None,
        staff: str | None = None,
    ) -> Event:
        """Return a grace note or chord before a moment by its number, 1 the first of a voice.

        Raises RequestError where there are fewer, or several voices have some.
        """
        mine = [
            event
            for event in self._of(voice, staff, self.graces)
            if event.onset_quarters == onset_quarters and not event.is_cue
        ]
        voices = {(event.voice, event.staff): event for event in mine}
        if len(voices) > 1:
            raise self._several_voices(list(voices.values()))
        if number > len(mine):
            there = f"{len(mine)} stand" if len(mine) > 1 else "1 stands" if mine else "None stands"
            raise RequestError(
                "address.no-such-grace",
                f"there is no grace note number {number} before this beat",
                hint=f"{there} here.",
            )
        return mine[number - 1]

    def _of(self, voice: str | None, staff: str | None, events: tuple[Event, ...]) -> list[Event]:
        return [
            event
            for event in events
            if voice in (None, event.voice) and staff in (None, event.staff)
        ]

    def _several_voices(self, found: list[Event]) -> RequestError:
        return RequestError(
            "address.several-voices",
            f"{len(found)} voices begin here",
            hint="Say which one: "
            + ", ".join(f"voice {event.voice}, staff {event.staff}" for event in found)
            + ".",
        )

    def _nothing_of_this_voice(self) -> RequestError:
        voices = dict.fromkeys(
            f"voice {event.voice}, staff {event.staff}" for event in self.events if not event.is_cue
        )
        there = f"It has {'; '.join(voices)}." if voices else "It has cue notes alone."
        return RequestError(
            "address.no-such-voice", "the bar has no such voice or staff", hint=there
        )

    def _nothing_begins(self, onset_quarters: Fraction, mine: list[Event]) -> RequestError:
        if any(e.is_cue and e.onset_quarters == onset_quarters for e in self.events):
            return RequestError(
                "address.cue",
                "a cue note begins here, which is for the eye only",
                hint="Choose a rest or a note that is played.",
            )
        around = [e for e in mine if e.covers(onset_quarters)]
        beats = ", ".join(
            dict.fromkeys(self.simple_beat_at(e.onset_quarters) for e in sorted(mine, key=_onset))
        )
        hint = f"Something begins on beat {beats}." if beats else "The bar is empty here."
        if around:
            event = around[0]
            what = "rest" if event.is_rest else "note"
            return RequestError(
                "address.inside",
                f"this is the middle of a {what} that begins on beat "
                f"{self.simple_beat_at(event.onset_quarters)}",
                hint=f"{hint} A length (--for half) begins inside a rest as well."
                if event.is_rest
                else hint,
            )
        return RequestError("address.no-such-beat", "nothing begins on this beat", hint=hint)


def _onset(event: Event) -> Fraction:
    return event.onset_quarters


def read_bar(bar: Bar, state: BarState) -> BarTimeline:
    """Walk through a bar from the state at its start.

    Raises InputError where durations cannot be known: no divisions, no duration, a chord
    note without a first note, a backup past the bar's start.
    """
    if len(bar.element) > MAX_BAR_ELEMENTS:
        raise InputError(
            "score.size",
            f"the bar holds {len(bar.element):,} elements, more than {MAX_BAR_ELEMENTS:,}",
            hint="Divide it into bars first.",
            where=Where(bar=str(bar)),
        )
    walk = _Walk(state)
    for index, child in enumerate(bar.element.iterchildren("*")):
        try:
            walk.step(index, child)
        except InputError as error:
            raise error.at(Where(bar=str(bar))) from None
    return BarTimeline(
        bar,
        state,
        tuple(_events(walk.rows)),
        tuple(walk.changes),
        walk.ends,
        tuple(_events(walk.graces)),
        tuple(walk.directions),
    )


class _Row(NamedTuple):
    onset: Fraction
    duration: Fraction
    voice: str
    staff: str
    divisions: Fraction
    children: list[int]
    notes: list[_Element]


class _Walk:
    """The cursor that moves through a bar's children."""

    def __init__(self, state: BarState) -> None:
        self.state = state
        self.cursor = Fraction(0)
        self.rows: list[_Row] = []
        self.graces: list[_Row] = []
        self.changes: list[tuple[Fraction, BarState]] = []
        self.directions: list[tuple[Fraction, _Element]] = []
        self.ends: dict[str, Fraction] = {}
        self._may_join = False
        self._may_join_grace = False

    def step(self, index: int, child: _Element) -> None:
        if child.tag == "note":
            self._note(index, child)
        elif child.tag == "attributes":
            self.state = self.state.after(child)
            self.changes.append((self.cursor, self.state))
        elif child.tag in ("backup", "forward"):
            self._may_join = False
            self._move(child)
        elif child.tag in ("direction", "sound"):
            self.directions.append((self.cursor + self._offset(child), child))

    def _move(self, child: _Element) -> None:
        distance = self._duration(child)
        self._advance(distance if child.tag == "forward" else -distance)
        if self.cursor < 0:
            raise InputError("score.backup", "a <backup> leads before the bar's start")

    def _offset(self, direction: _Element) -> Fraction:
        text = direction.findtext("offset")
        if text is None or self.state.divisions is None:
            return Fraction(0)
        return signed_number(text, "offset") / self.state.divisions

    def _advance(self, distance: Fraction) -> None:
        self.cursor += distance
        if self.cursor.denominator > FINEST_TIME:
            raise InputError("score.time", "the durations of this bar have no common measure")

    def _note(self, index: int, note: _Element) -> None:
        if note.find("grace") is not None:
            self._grace(index, note)
            return
        self._may_join_grace = False
        if note.find("chord") is not None:
            if not self._may_join:
                raise InputError("score.lone-chord", "a <chord/> note has no note before it")
            self.rows[-1].children.append(index)
            self.rows[-1].notes.append(note)
            return
        duration = self._duration(note)
        voice, staff = _named(note, "voice"), _named(note, "staff")
        divisions = self.state.divisions
        assert divisions is not None  # or the duration could not have been read
        self.rows.append(_Row(self.cursor, duration, voice, staff, divisions, [index], [note]))
        self._advance(duration)
        self.ends[voice] = max(self.cursor, self.ends.get(voice, Fraction(0)))
        self._may_join = True

    def _grace(self, index: int, note: _Element) -> None:
        if note.find("chord") is not None and self._may_join_grace:
            self.graces[-1].children.append(index)
            self.graces[-1].notes.append(note)
            return
        divisions = self.state.divisions or Fraction(1)
        voice, staff = _named(note, "voice"), _named(note, "staff")
        self.graces.append(_Row(self.cursor, Fraction(0), voice, staff, divisions, [index], [note]))
        self._may_join_grace = True

    def _duration(self, element: _Element) -> Fraction:
        text = element.findtext("duration")
        if text is None:
            raise InputError("score.no-duration", f"a <{element.tag}> has no <duration>")
        if self.state.divisions is None:
            raise InputError(
                "score.no-divisions",
                "no <divisions> stand before this bar, so no duration can be known",
            )
        return _quarters(text, self.state.divisions)


@lru_cache(maxsize=1024)
def _quarters(duration: str, divisions: Fraction) -> Fraction:
    """Read a length in quarter notes; remembered, because a score has few, each many times."""
    return decimal_number(duration, "duration") / divisions


def _named(note: _Element, tag: str) -> str:
    name = (note.findtext(tag) or "").strip() or "1"
    if len(name) > LONGEST_NAME:
        raise InputError("score.name", f"a <{tag}> has {len(name)} characters")
    return name


def _events(rows: list[_Row]) -> Iterator[Event]:
    for row in rows:
        yield Event(
            row.onset,
            row.duration,
            row.voice,
            row.staff,
            row.divisions,
            tuple(row.children),
            tuple(row.notes),
        )

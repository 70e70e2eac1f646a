"""The bars of one part, read on demand, and the ties that lead from bar to bar."""

from __future__ import annotations

from fractions import Fraction
from functools import cached_property

from reedchord.errors import ReedchordError, Where
from reedchord.musicxml.bar_length import longest_voice_quarters
from reedchord.musicxml.bar_state import BarState, states_at_bars
from reedchord.musicxml.document import Part
from reedchord.musicxml.event import Event
from reedchord.musicxml.timeline import BarTimeline, read_bar


class PartMusic:
    """A part whose bars are walked through when they are asked for, once each."""

    def __init__(self, part: Part) -> None:
        self.part = part
        self._read: dict[int, BarTimeline] = {}

    @cached_property
    def _states(self) -> list[BarState]:
        try:
            return list(states_at_bars(self.part))
        except ReedchordError as error:
            raise error.at(Where(part=str(self.part))) from None

    def bar(self, index: int) -> BarTimeline:
        """Return the timeline of a bar by its index; raises InputError where it cannot be."""
        if index not in self._read:
            try:
                self._read[index] = read_bar(self.part.bars[index], self._states[index])
            except ReedchordError as error:
                raise error.at(Where(part=str(self.part))) from None
        return self._read[index]

    def bar_quarters(self, index: int) -> Fraction:
        """Return how long the longest voice of a bar is, without reading the bar where it can.

        Raises InputError where durations cannot be known.
        """
        if index in self._read:
            return max(self._read[index].ends.values(), default=Fraction(0))
        try:
            return longest_voice_quarters(self.part.bars[index], self._states[index])
        except ReedchordError as error:
            raise error.at(Where(part=str(self.part))) from None

    def tied_from(self, bar_index: int, event: Event) -> list[tuple[int, Event]]:
        """Return an event and all that it is tied on to as a whole, each with its bar's index."""
        chain = [(bar_index, event)]
        while event.is_wholly_tied("start"):
            following = self.next_in_voice(bar_index, event)
            if following is None or not following[1].is_wholly_tied("stop"):
                break
            chain.append(following)
            bar_index, event = following
        return chain

    def tied_into(self, bar_index: int, event: Event) -> tuple[int, Event] | None:
        """Return the event before that is tied on to this one, with its bar's index, if any."""
        if not event.is_tied("stop"):
            return None
        for index in (bar_index, bar_index - 1):
            if index < 0:
                continue
            for other in self.bar(index).events:
                is_before = other.is_tied("start") and other.voice == event.voice
                if is_before and self.next_in_voice(index, other) == (bar_index, event):
                    return index, other
        return None

    def next_in_voice(self, bar_index: int, event: Event) -> tuple[int, Event] | None:
        """Return what follows an event at once in its voice, with its bar's index, if anything."""
        for index, onset in ((bar_index, event.end_quarters), (bar_index + 1, 0)):
            if index >= len(self.part.bars):
                continue
            for other in self.bar(index).events:
                if (
                    other.voice == event.voice
                    and other.onset_quarters == onset
                    and ((index, other) != (bar_index, event))
                ):
                    return index, other
        return None

    @cached_property
    def has_lyrics(self) -> bool:
        """Whether somebody sings in this part, so that lyric lines are taken."""
        return any(
            lyric.get("name") != "cents"
            for group, _ in self.part.groups
            for lyric in group.iter("lyric")
        )

    @cached_property
    def multi_bar_rests(self) -> dict[int, range]:
        """The bars of every multi-bar rest, by the index of each bar that it covers."""
        covered: dict[int, range] = {}
        if not any(True for group, _ in self.part.groups for _ in group.iter("multiple-rest")):
            return covered
        for bar in self.part.bars:
            for rest in bar.element.iterfind("attributes/measure-style/multiple-rest"):
                if bar.index in covered:
                    continue
                digits = (rest.text or "").strip()
                length = int(digits) if digits.isdecimal() and len(digits) < 6 else 1
                bars = range(bar.index, min(bar.index + length, len(self.part.bars)))
                covered |= dict.fromkeys(bars, bars)
        return covered

    @cached_property
    def bars_of_repeat_signs(self) -> dict[int, range]:
        """Bars that are written as signs for those before them, by the index of each."""
        covered: dict[int, range] = {}
        if not any(True for group, _ in self.part.groups for _ in group.iter("measure-repeat")):
            return covered
        start: int | None = None
        for bar in self.part.bars:
            for sign in bar.element.iter("measure-repeat"):
                if start is not None:
                    covered |= dict.fromkeys(range(start, bar.index), range(start, bar.index))
                start = bar.index if sign.get("type") == "start" else None
        if start is not None:
            bars = range(start, len(self.part.bars))
            covered |= dict.fromkeys(bars, bars)
        return covered

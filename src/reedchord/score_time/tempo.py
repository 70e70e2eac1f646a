"""The tempo at each moment of a score, and from positions to seconds."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property
from itertools import accumulate

from reedchord.numbers_as_text import decimal_text
from reedchord.rhythm import QUARTER
from reedchord.score_time.tempo_marks import TempoMark, Trust, tempo_marks, way_of
from reedchord.score_time.whole_score import WholeScore

ASSUMED_QUARTERS_PER_MINUTE = Fraction(120)
"""MusicXML has no tempo of its own; this is what MIDI files assume (SMF 1.0)."""

LONGEST_CHANGE_QUARTERS = 32
"""A tempo further on than this is no goal of a rit. or accel. (an assumption)."""

SECONDS_PER_MINUTE = 60


@dataclass(frozen=True)
class Stretch:
    """From `start_quarters` on: a tempo that holds, or goes evenly over to another.

    Tempi in quarters per minute; a change is linear in score time, which is an assumption.
    """

    start_quarters: Fraction
    tempo: Fraction
    tempo_at_end: Fraction | None = None


@dataclass(frozen=True)
class TempoMap:
    """The stretches of a score in order, the first from 0 on, and what had to be assumed."""

    stretches: tuple[Stretch, ...]
    end_quarters: Fraction
    assumptions: tuple[str, ...]

    def quarters_per_minute(self, position_quarters: Fraction) -> Fraction:
        """Return the tempo at a position, exactly."""
        index = self._index(position_quarters)
        stretch, end = self.stretches[index], self._end(index)
        if stretch.tempo_at_end is None or end == stretch.start_quarters:
            return stretch.tempo
        gone = (position_quarters - stretch.start_quarters) / (end - stretch.start_quarters)
        return stretch.tempo + gone * (stretch.tempo_at_end - stretch.tempo)

    def seconds(self, position_quarters: Fraction) -> float:
        """Return the seconds from the start to a position, without repeats."""
        index = self._index(position_quarters)
        return self._seconds_at_starts[index] + self._seconds_within(index, position_quarters)

    def seconds_between(self, start_quarters: Fraction, end_quarters: Fraction) -> float:
        """Return how long a span of the score lasts."""
        return self.seconds(end_quarters) - self.seconds(start_quarters)

    def _index(self, position: Fraction) -> int:
        return max(0, bisect_right(self._starts, position) - 1)

    @cached_property
    def _starts(self) -> list[Fraction]:
        return [stretch.start_quarters for stretch in self.stretches]

    @cached_property
    def _seconds_at_starts(self) -> list[float]:
        lasting = (self._seconds_within(i, self._end(i)) for i in range(len(self.stretches)))
        return list(accumulate(lasting, initial=0.0))

    def _end(self, index: int) -> Fraction:
        following = index + 1
        if following < len(self.stretches):
            return self.stretches[following].start_quarters
        return max(self.end_quarters, self.stretches[index].start_quarters)

    def _seconds_within(self, index: int, position: Fraction) -> float:
        """Integrate 60 / tempo over score time: a logarithm where the tempo changes."""
        stretch = self.stretches[index]
        quarters = position - stretch.start_quarters
        here = self.quarters_per_minute(position) if stretch.tempo_at_end else stretch.tempo
        if here == stretch.tempo:
            return float(SECONDS_PER_MINUTE * quarters / stretch.tempo)
        slope = (here - stretch.tempo) / quarters
        return float(SECONDS_PER_MINUTE / slope) * math.log(here / stretch.tempo)


def tempo_map(whole: WholeScore, *, assumed: Fraction | None = None) -> TempoMap:
    """Return the tempo of a score from its marks.

    `assumed` quarters per minute hold until the first mark, 120 where it is not given.
    Raises InputError for numbers that cannot be read.
    """
    marks = tempo_marks(whole)
    assumptions: list[str] = []
    timed = [mark for mark in marks if mark.trust is not Trust.WORDS]
    opening = assumed or ASSUMED_QUARTERS_PER_MINUTE
    if assumed is None and (not timed or timed[0].onset_quarters > 0):
        where = "the score" if not timed else "its beginning"
        mark = f"{QUARTER.words()} = {decimal_text(opening)}"
        assumptions.append(f"no tempo is marked for {where}: {mark} is assumed")
    stretches = _steps(timed, opening)
    stretches = _with_changes(stretches, marks, assumptions)
    return TempoMap(tuple(stretches), whole.end_quarters, tuple(assumptions))


def _steps(timed: Sequence[TempoMark], opening: Fraction) -> list[Stretch]:
    """Return a stretch for each mark, the opening one where none stands at the start."""
    stretches = [Stretch(Fraction(0), opening)]
    for mark in timed:
        tempo = mark.quarters_per_minute or stretches[-1].tempo * (mark.ratio or 1)
        if mark.onset_quarters <= stretches[-1].start_quarters:
            stretches.pop()
        stretches.append(Stretch(max(mark.onset_quarters, Fraction(0)), tempo))
    return stretches


def _with_changes(
    stretches: list[Stretch], marks: Sequence[TempoMark], assumptions: list[str]
) -> list[Stretch]:
    """Let the tempo go over to the next mark where words such as rit. stand before it."""
    for mark in marks:
        way = way_of(mark) if mark.trust is Trust.WORDS else 0
        if not way:
            continue
        index = max(i for i, s in enumerate(stretches) if s.start_quarters <= mark.onset_quarters)
        goal = _goal(mark, way, stretches[index], stretches[index + 1 : index + 2])
        if goal is None:
            assumptions.append(f"{mark.words!r} leads to no marked tempo: the tempo is kept")
        elif stretches[index].tempo_at_end is None:
            _change(stretches, index, mark.onset_quarters, goal)
            assumptions.append(f"{mark.words!r} changes the tempo evenly until the next mark")
    return stretches


def _goal(mark: TempoMark, way: int, now: Stretch, following: Sequence[Stretch]) -> Fraction | None:
    """Return the next tempo where it is near enough and lies the way that the words say."""
    for after in following:
        is_near = after.start_quarters - mark.onset_quarters <= LONGEST_CHANGE_QUARTERS
        if is_near and (after.tempo - now.tempo) * way > 0:
            return after.tempo
    return None


def _change(stretches: list[Stretch], index: int, start: Fraction, tempo: Fraction) -> None:
    before = stretches[index]
    changing = Stretch(start, before.tempo, tempo)
    if start == before.start_quarters:
        stretches[index] = changing
    else:
        stretches[index : index + 1] = [replace(before, tempo_at_end=None), changing]


def bar_seconds(whole: WholeScore, tempo: TempoMap) -> list[float]:
    """Return where each bar begins in seconds, without repeats, and the end of the last."""
    lengths = [
        tempo.seconds_between(start, end)
        for start, end in zip(whole.bar_starts, whole.bar_starts[1:], strict=False)
    ]
    return list(accumulate(lengths, initial=0.0))

"""The dynamic in force at each moment of a part: marks, wedges and accents."""

from __future__ import annotations

import math
import re
from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from itertools import accumulate
from typing import TYPE_CHECKING

from reedchord.dynamics import SCALE, Dynamic
from reedchord.musicxml.bar_contents import has_dynamics_on_notes, may_change_dynamics
from reedchord.musicxml.part_music import PartMusic
from reedchord.score_time.whole_score import WholeScore

if TYPE_CHECKING:
    from reedchord.musicxml.event import Element

_MARKS = {str(dynamic): dynamic.level for dynamic in SCALE}
_MARKS |= {"ppppp": 0, "pppppp": 0, "fffff": SCALE[-1].level, "ffffff": SCALE[-1].level}
_MARKS |= {"n": 0}
_TWO_MARKS = {"fp": ("f", "p"), "pf": ("p", "f"), "sfp": ("f", "p"), "sfpp": ("f", "pp")}
"""Marks that hold for one note, and what follows it."""
_ACCENTS = frozenset({"sf", "sfz", "sffz", "fz", "rf", "rfz", "sfzp"})
"""Marks of MusicXML's `dynamics` that hold for one note only, which is louder by a mark."""
ACCENT_LEVELS = 1
_WEDGE_REACHES = Fraction(1)
"""Quarters after a wedge within which a mark tells where it leads."""
_GROWING = re.compile(r"\bcresc(?:\.|endo\b)|\bgrowing\b", re.IGNORECASE)
_FADING = re.compile(r"\b(?:dim(?:\.|inuendo\b)|decresc(?:\.|endo\b))", re.IGNORECASE)


@dataclass(frozen=True)
class DynamicPoint:
    """From a moment on (quarters from the score's start) a level of `dynamics.SCALE`."""

    onset_quarters: Fraction
    level: Fraction


@dataclass(frozen=True)
class DynamicLine:
    """The dynamics of one staff of a part; levels between marks are linear in score time."""

    points: tuple[DynamicPoint, ...]
    ramps: tuple[tuple[Fraction, Fraction, Fraction, Fraction], ...]
    """Start and end in quarters, level at the start and at the end; in order of their starts."""
    accents: frozenset[Fraction]
    """Moments at which one note is louder than its surroundings."""
    beginnings: Mapping[Fraction, Fraction]
    """Levels at which notes begin that go on at another, as at `fp`."""

    def level(self, onset_quarters: Fraction) -> Fraction | None:
        """Return the level at a moment on the scale of marks, None where none was given yet."""
        ramp = self._first_ramp_after(onset_quarters)
        if ramp < bisect_right(self._ramp_starts, onset_quarters):
            start, end, low, high = self.ramps[ramp]
            return low + (high - low) * (onset_quarters - start) / (end - start)
        index = bisect_right(self._moments, onset_quarters) - 1
        return self.points[index].level if index >= 0 else None

    def changes_between(self, start: Fraction, end: Fraction) -> bool:
        """Tell whether a sound goes through more than the level at which it begins."""
        first, stop = bisect_right(self._moments, start), bisect_left(self._moments, end)
        ramp = self._first_ramp_after(start)
        is_on_ramp = ramp < bisect_left(self._ramp_starts, end)
        return first < stop or is_on_ramp or start in self.beginnings

    def _first_ramp_after(self, onset_quarters: Fraction) -> int:
        """Return the place of the first ramp that ends later, past the last where none does."""
        return bisect_right(self._latest_ends, onset_quarters)

    @cached_property
    def _ramp_starts(self) -> list[Fraction]:
        return [start for start, _, _, _ in self.ramps]

    @cached_property
    def _latest_ends(self) -> list[Fraction]:
        """The latest end of each ramp and all before it."""
        return list(accumulate((end for _, end, _, _ in self.ramps), max))

    @cached_property
    def _moments(self) -> list[Fraction]:
        return [point.onset_quarters for point in self.points]

    def dynamic(self, onset_quarters: Fraction) -> Dynamic | None:
        """Return the nearest mark at a moment, accents included; None where it is unknown.

        Halfway between two marks it is the softer.
        """
        level = self.beginnings.get(onset_quarters, self.level(onset_quarters))
        if level is None:
            return None
        return _nearest(level + (ACCENT_LEVELS if onset_quarters in self.accents else 0))

    def dynamics_between(self, start: Fraction, end: Fraction) -> tuple[Dynamic, ...]:
        """Return the marks that a sound goes through, that of its beginning first.

        None at all where none is known at the beginning.
        """
        first = self.dynamic(start)
        if first is None:
            return ()
        heard = [first, *self._later(start, end)]
        return tuple(dict.fromkeys(heard))

    def _later(self, start: Fraction, end: Fraction) -> Iterator[Dynamic]:
        goes_on = self.level(start)
        if start in self.beginnings and goes_on is not None:
            yield _nearest(goes_on)
        begun, stop = bisect_right(self._moments, start), bisect_left(self._moments, end)
        yield from (_nearest(point.level) for point in self.points[begun:stop])
        for ramp_start, ramp_end, low, high in self.ramps:
            moments = max(start, ramp_start), min(end, ramp_end)
            if moments[0] < moments[1]:
                slope = (high - low) / (ramp_end - ramp_start)
                levels = sorted(low + slope * (moment - ramp_start) for moment in moments)
                quietest, loudest = (_nearest(level).level for level in levels)
                yield from SCALE[quietest : loudest + 1]


def _nearest(level: Fraction) -> Dynamic:
    return SCALE[min(len(SCALE) - 1, max(0, math.ceil(level - Fraction(1, 2))))]


@dataclass(frozen=True)
class _Mark:
    onset: Fraction
    name: str
    staff: str | None
    voice: str | None
    way: int = 0
    """1 where it begins to grow, -1 to fade; 0 for a mark and for the end of a wedge."""


def dynamic_line(whole: WholeScore, music: PartMusic, staff: str, voice: str) -> DynamicLine:
    """Return the dynamics of a voice: marks of its staff, of the voice itself where voices differ.

    A wedge goes evenly to the mark at its end, or, where none stands there, by one mark; words
    such as cresc. go evenly to the next mark. Both are assumptions.
    """
    marks = [mark for mark in _all_marks(whole, music) if mark.staff in (None, staff)]
    voices = {mark.voice for mark in marks}
    if len(voices - {None}) > 1:
        marks = [mark for mark in marks if mark.voice in (None, voice)]
    return _line(sorted(marks, key=lambda mark: mark.onset))


def _all_marks(whole: WholeScore, music: PartMusic) -> Iterator[_Mark]:
    for bar in music.part.bars:
        if not may_change_dynamics(bar.element):
            continue
        start = whole.bar_starts[bar.index]
        timeline = music.bar(bar.index)
        for onset, element in timeline.directions:
            yield from _direction_marks(element, start + onset)
        if not has_dynamics_on_notes(bar.element):
            continue
        for event in timeline.events:
            for note in event.notes:
                for element in note.iterfind("notations/dynamics"):
                    for name in _names(element):
                        onset = start + event.onset_quarters
                        yield _Mark(onset, name, event.staff, event.voice)


def _direction_marks(direction: Element, onset: Fraction) -> Iterator[_Mark]:
    staff = (direction.findtext("staff") or "").strip() or None
    voice = (direction.findtext("voice") or "").strip() or None
    for element in direction.iterfind("direction-type/dynamics"):
        for name in _names(element):
            yield _Mark(onset, name, staff, voice)
    for wedge in direction.iterfind("direction-type/wedge"):
        way = {"crescendo": 1, "diminuendo": -1}.get(wedge.get("type", ""), 0)
        if way or wedge.get("type") == "stop":
            yield _Mark(onset, "wedge", staff, voice, way)
    for words in direction.iterfind("direction-type/words"):
        text = words.text or ""
        if _GROWING.search(text) or _FADING.search(text):
            yield _Mark(onset, "words", staff, voice, 1 if _GROWING.search(text) else -1)


def _names(dynamics: Element) -> Iterator[str]:
    for child in dynamics.iterchildren("*"):
        yield (child.text or "").strip() if child.tag == "other-dynamics" else str(child.tag)


def _line(marks: Sequence[_Mark]) -> DynamicLine:
    points: list[DynamicPoint] = []
    ramps: list[tuple[Fraction, Fraction, Fraction, Fraction]] = []
    accents = {mark.onset for mark in marks if mark.name in _ACCENTS}
    beginnings: dict[Fraction, Fraction] = {}
    for index, mark in enumerate(marks):
        if mark.way and points:
            ramp = _ramp(mark, marks[index + 1 :], points[-1].level)
            if ramp is not None:
                ramps.append(ramp)
                points.append(DynamicPoint(ramp[1], ramp[3]))
        elif mark.name in _TWO_MARKS:
            first, then = (Fraction(_MARKS[name]) for name in _TWO_MARKS[mark.name])
            beginnings[mark.onset] = first
            points.append(DynamicPoint(mark.onset, then))
        elif mark.name in _MARKS:
            points.append(DynamicPoint(mark.onset, Fraction(_MARKS[mark.name])))
    points.sort(key=lambda point: point.onset_quarters)
    return DynamicLine(tuple(points), tuple(ramps), frozenset(accents), beginnings)


def _ramp(
    mark: _Mark, later: Sequence[_Mark], level: Fraction
) -> tuple[Fraction, Fraction, Fraction, Fraction] | None:
    """Return where a wedge or words lead; None for words after which no mark stands."""
    targets = (m for m in later if m.name in _MARKS and m.onset > mark.onset)
    if mark.name == "words":
        target = next(targets, None)
        if target is None:
            return None
        return mark.onset, target.onset, level, Fraction(_MARKS[target.name])
    end = next((m for m in later if m.name == "wedge" and not m.way and m.onset > mark.onset), None)
    if end is None:
        return None
    reached = next(targets, None)
    goal = min(max(level + mark.way, Fraction(0)), Fraction(len(SCALE) - 1))
    if reached is not None and reached.onset <= end.onset + _WEDGE_REACHES:
        marked = Fraction(_MARKS[reached.name])
        # A crescendo does not lead down, nor a diminuendo up.
        goal = marked if (marked - level) * mark.way > 0 else goal
    return mark.onset, end.onset, level, goal

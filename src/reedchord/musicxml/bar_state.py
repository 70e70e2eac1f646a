"""What `<attributes>` say at the start of each bar: divisions, metre, keys, transposition."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from fractions import Fraction
from functools import lru_cache
from types import MappingProxyType
from typing import TYPE_CHECKING, NamedTuple

from reedchord.errors import InputError
from reedchord.musicxml.document import Part

if TYPE_CHECKING:
    from lxml.etree import _Element

WHOLE_QUARTERS = 4
ALL_STAVES = None
_SHARPS = "FCGDAEB"


class Transpose(NamedTuple):
    """A `<transpose>`: what leads from written to sounding pitch, octaves included."""

    semitones: int
    steps: int | None
    doubled: bool = False


class BarState(NamedTuple):
    """What holds at one moment of a part; staff None stands for all staves."""

    divisions: Fraction | None = None
    beats: Fraction | None = None
    beat_type: int | None = None
    transposes: Mapping[str | None, Transpose] = MappingProxyType({})
    fifths: Mapping[str | None, int] = MappingProxyType({})

    @property
    def beat_quarters(self) -> Fraction:
        """Length of a beat: the metre's lower number, a quarter where there is no metre."""
        return Fraction(WHOLE_QUARTERS, self.beat_type or WHOLE_QUARTERS)

    @property
    def bar_quarters(self) -> Fraction | None:
        """Length of a full bar, None where there is no metre."""
        return None if self.beats is None else self.beats * self.beat_quarters

    def transpose(self, staff: str = "1") -> Transpose | None:
        """Return the transposition of a staff, None where none is written."""
        return self.transposes.get(staff, self.transposes.get(ALL_STAVES))

    def key_alter(self, step: str, staff: str = "1") -> int:
        """Return the semitones by which the key signature alters a step."""
        fifths = self.fifths.get(staff, self.fifths.get(ALL_STAVES, 0))
        if fifths >= 0:
            return int(step in _SHARPS[:fifths])
        return -int(step in _SHARPS[fifths:])

    def after(self, attributes: _Element) -> BarState:
        """Return the state after an `<attributes>` element; raises InputError on bad numbers."""
        state = self
        divisions = attributes.findtext("divisions")
        if divisions is not None:
            state = state._replace(divisions=positive_number(divisions, "divisions"))
        for time in attributes.iterfind("time"):
            state = state._with_time(time)
        for transpose in attributes.iterfind("transpose"):
            staff = transpose.get("number")
            known = {} if staff is None else state.transposes
            state = state._replace(transposes={**known, staff: _transpose(transpose)})
        for key in attributes.iterfind("key"):
            fifths = _whole(key.findtext("fifths"), "fifths") or 0
            staff = key.get("number")
            known_keys = {} if staff is None else state.fifths
            state = state._replace(fifths={**known_keys, staff: max(-7, min(7, fifths))})
        return state

    def _with_time(self, time: _Element) -> BarState:
        beats = [text.text or "" for text in time.iterfind("beats")]
        types = [_whole(text.text, "beat-type") or 0 for text in time.iterfind("beat-type")]
        if not beats or len(beats) != len(types) or min(types) <= 0:
            return self._replace(beats=None, beat_type=None)
        finest = max(types)
        total = sum(
            (
                sum(positive_number(term, "beats") for term in beat.split("+"))
                * Fraction(finest, t)
                for beat, t in zip(beats, types, strict=True)
            ),
            Fraction(0),
        )
        return self._replace(beats=total, beat_type=finest)


def states_at_bars(part: Part) -> Iterator[BarState]:
    """Yield the state at the start of each bar of a part, in order."""
    state = BarState()
    # Searching whole parts is much faster than asking bar by bar.
    by_bar: dict[_Element | None, list[_Element]] = {}
    for group, _ in part.groups:
        for attributes in group.iter("attributes"):
            by_bar.setdefault(attributes.getparent(), []).append(attributes)
    for bar in part.bars:
        yield state
        for attributes in by_bar.get(bar.element, ()):
            state = state.after(attributes)


def positive_number(text: str, name: str) -> Fraction:
    """Read a decimal above 0, as MusicXML writes divisions; raises InputError."""
    number = decimal_number(text, name)
    if number == 0:
        raise InputError("score.number", f"<{name}> is {text.strip()!r}, not a number above 0")
    return number


_DECIMAL = re.compile(r"[+-]?(?:\d{1,30}(?:\.\d{0,30})?|\.\d{1,30})")
"""No exponents: a short one makes a number that fills the memory."""


def decimal_number(text: str, name: str) -> Fraction:
    """Read a decimal from 0 up, as MusicXML writes durations; raises InputError."""
    number = signed_number(text, name)
    if number < 0:
        raise InputError("score.number", f"<{name}> is {text.strip()!r}, not a number from 0 up")
    return number


def signed_number(text: str, name: str) -> Fraction:
    """Read a decimal with or without a sign; raises InputError."""
    digits = text.strip()
    if _DECIMAL.fullmatch(digits) is None:
        raise InputError("score.number", f"<{name}> is {digits[:40]!r}, not a number")
    return _fraction(digits)


@lru_cache(maxsize=1024)
def _fraction(digits: str) -> Fraction:
    """Read digits; remembered, because a score has few durations, each thousands of times."""
    return Fraction(digits)


def _whole(text: str | None, name: str) -> int | None:
    if text is None or not text.strip():
        return None
    number = signed_number(text, name)
    if number.denominator != 1:
        raise InputError("score.number", f"<{name}> is {text.strip()!r}, not a whole number")
    return int(number)


def _transpose(element: _Element) -> Transpose:
    chromatic = _whole(element.findtext("chromatic"), "chromatic")
    if chromatic is None:
        raise InputError("score.transpose", "a <transpose> has no <chromatic>")
    diatonic = _whole(element.findtext("diatonic"), "diatonic")
    octaves = _whole(element.findtext("octave-change"), "octave-change") or 0
    return Transpose(
        chromatic + 12 * octaves,
        None if diatonic is None else diatonic + 7 * octaves,
        doubled=element.find("double") is not None,
    )

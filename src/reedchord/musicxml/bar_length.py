"""How long a bar is, told without walking through all that stands in it."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from lxml import etree

from reedchord.musicxml.bar_state import BarState
from reedchord.musicxml.document import Bar
from reedchord.musicxml.timeline import read_bar

if TYPE_CHECKING:
    from lxml.etree import _Element

_MOVING = etree.XPath("note[not(grace) and not(chord)] | backup | forward | attributes[divisions]")
_LONGEST_NUMBER = 18


def longest_voice_quarters(bar: Bar, state: BarState) -> Fraction:
    """Return where the last note or rest of a bar ends, in quarter notes from its start.

    `state` is what holds at the bar's start. Raises InputError where durations cannot be
    known.
    """
    units = _in_whole_units(bar.element, state)
    if units is None:
        return max(read_bar(bar, state).ends.values(), default=Fraction(0))
    return units


def _in_whole_units(bar: _Element, state: BarState) -> Fraction | None:
    """Return the same where all durations are whole numbers of one kind; else None."""
    divisions, cursor, end = state.divisions, 0, 0
    moving = _MOVING(bar)
    assert isinstance(moving, list)  # as of every path to elements
    for element in moving:
        assert isinstance(element, etree._Element)
        if element.tag == "attributes":
            if cursor or end:
                return None
            divisions = state.after(element).divisions
            continue
        text = element.findtext("duration") or ""
        if not text.isdecimal() or len(text) > _LONGEST_NUMBER or divisions is None:
            return None
        cursor += -int(text) if element.tag == "backup" else int(text)
        if cursor < 0:
            return None
        if element.tag == "note":
            end = max(end, cursor)
    return Fraction(end) / divisions if divisions and end else Fraction(0)

"""How long a bar is, told without walking through all that stands in it."""

from __future__ import annotations

from fractions import Fraction

from lxml import etree

from reedchord.musicxml.bar_state import BarState
from reedchord.musicxml.document import Bar
from reedchord.musicxml.timeline import read_bar

_SUM = etree.XPath(
    "concat(count(backup | forward | attributes[divisions] |"
    " note[not(duration) and not(grace)]), ' ', sum(note[not(chord)]/duration))",
    smart_strings=False,
)
"""How much stands in a bar that takes more than adding up, and the sum of its durations."""
_EXACT_BELOW = 2**50
"""Whole numbers below this are added up exactly."""


def longest_voice_quarters(bar: Bar, state: BarState) -> Fraction:
    """Return where the last note or rest of a bar ends, in quarter notes from its start.

    `state` is what holds at the bar's start. Raises InputError where durations cannot be
    known.
    """
    harder, total = str(_SUM(bar.element)).split(" ")
    if harder == "0" and total.isdecimal() and int(total) < _EXACT_BELOW and state.divisions:
        return int(total) / state.divisions
    return max(read_bar(bar, state).ends.values(), default=Fraction(0))

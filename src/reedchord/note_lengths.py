"""Tempi as they are written, and what lengths become at them: seconds and speeds."""

from __future__ import annotations

from fractions import Fraction

from reedchord.errors import InputError
from reedchord.lasting import Length
from reedchord.rhythm import MAX_DOTS, QUARTERS_BY_TYPE, NoteValue, Rate, parse_rate


def parse_tempo(text: str) -> Rate:
    """Read a metronome mark, `quarter = 72`, or a number of quarters a minute."""
    whole = text if "=" in text else f"quarter = {text}"
    try:
        return parse_rate(f"quarter at {whole}")
    except InputError as error:
        if error.code != "rhythm.rate":
            raise
        raise InputError(
            "wishes.tempo", f"{text!r} is no tempo", hint="Write a metronome mark: quarter = 72."
        ) from None


def length_seconds(length: Length, tempo: Rate) -> Fraction:
    """Return how long a length lasts at a tempo."""
    return length.quarters / tempo.beat.quarters * 60 / tempo.beats_per_minute


def once_in(length: Length, tempo: Rate) -> Rate:
    """Return how fast something is articulated once in a length.

    A length that is no single note value counts as the longest one within it, so that the
    speed is never understated.
    """
    values = [NoteValue(name, dots) for name in QUARTERS_BY_TYPE for dots in range(MAX_DOTS + 1)]
    within = [value for value in values if value.quarters <= length.quarters]
    longest = max(within or values[-1:], key=lambda value: value.quarters)
    return Rate(longest, tempo.beat, tempo.beats_per_minute)

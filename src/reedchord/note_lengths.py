"""Tempi and lengths as they are written, and the seconds that they last."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from reedchord.errors import InputError
from reedchord.rhythm import NoteValue, Rate, parse_note_value, parse_rate


def parse_tempo(text: str) -> Rate:
    """Read a metronome mark, `quarter = 72`, or a number of quarters a minute."""
    whole = text if "=" in text else f"quarter = {text}"
    try:
        mark = parse_rate(f"quarter at {whole}")
    except InputError as error:
        if error.code != "rhythm.rate":
            raise
        raise InputError(
            "wishes.tempo", f"{text!r} is no tempo", hint="Write a metronome mark: quarter = 72."
        ) from None
    return mark


def parse_length(text: str) -> tuple[NoteValue, ...]:
    """Read a length of note values tied together: `half`, `quarter.`, `whole + half`."""
    return tuple(parse_note_value(part) for part in text.split("+"))


def length_seconds(values: Sequence[NoteValue], tempo: Rate) -> Fraction:
    """Return how long note values tied together last at a tempo."""
    quarters = sum((value.quarters for value in values), Fraction(0))
    return quarters / tempo.beat.quarters * 60 / tempo.beats_per_minute


def once_in(values: Sequence[NoteValue], tempo: Rate) -> Rate:
    """Return how fast something is articulated once in a length; in ties, in the longest value."""
    longest = max(values, key=lambda value: value.quarters)
    return Rate(longest, tempo.beat, tempo.beats_per_minute)

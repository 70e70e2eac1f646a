"""How long something is to last: as a note value, a fraction of a whole note, or until when."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import NamedTuple

from reedchord.errors import InputError
from reedchord.rhythm import beat_text, parse_beat, parse_note_value

_WHOLE_QUARTERS = 4
_FRACTION = r"(\d{1,6})\s*/\s*([1-9]\d{0,5})"
_END = r"to\s+bar\s+(?P<bar>\S+?),?(?:\s+beat\s+(?P<beat>[\d.+/ ]+))?"


class Length(NamedTuple):
    """A length of time in quarter notes, and the words in which it was given."""

    quarters: Fraction
    text: str

    def __str__(self) -> str:
        return self.text


class End(NamedTuple):
    """The moment at which something stops: a beat of a bar, itself not included."""

    bar: str
    beat: Fraction

    def __str__(self) -> str:
        return f"to bar {self.bar} beat {beat_text(self.beat)}"


Lasting = Length | End


def parse_length(text: str) -> Length:
    """Read `half`, `quarter.`, `half+eighth` or `3/8` of a whole note; raises InputError."""
    match = re.fullmatch(_FRACTION, text.strip())
    if match is not None:
        quarters = Fraction(int(match[1]), int(match[2])) * _WHOLE_QUARTERS
    else:
        terms = (parse_note_value(term) for term in text.split("+"))
        quarters = sum((value.quarters for value in terms), Fraction(0))
    if quarters <= 0:
        raise InputError("rhythm.length", f"{text!r} is no length", hint="A length is above 0.")
    return Length(quarters, " ".join(text.split()))


def parse_lasting(text: str) -> Lasting:
    """Read a length, or `to bar 14 beat 1`; raises InputError for anything else."""
    end = re.fullmatch(_END, text.strip(), re.IGNORECASE)
    if end is not None:
        return End(end["bar"], parse_beat(end["beat"] or "1"))
    try:
        return parse_length(text)
    except InputError as error:
        raise InputError(
            "rhythm.length",
            f"{text!r} tells no length",
            hint="Write a note value (half, quarter., half+eighth), a fraction of a whole note "
            "(3/8), or where it ends (to bar 14 beat 1).",
        ) from error

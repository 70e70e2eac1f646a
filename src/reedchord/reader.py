"""Who reads: whose names of note values and of pitches people are told.

It is kept as the standard library keeps the context of decimal numbers: what words are made of
asks for it, and nobody in between hands it on. What is written into scores and files of records
never depends on it.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import NamedTuple

from reedchord.pitch_names import PitchNames


class Reader(NamedTuple):
    """What somebody is used to read."""

    british: bool = False
    """Crotchets and quavers, not quarters and eighths."""
    pitch_names: PitchNames = PitchNames.ENGLISH


USUAL = Reader()
_READER: ContextVar[Reader] = ContextVar("reader", default=USUAL)


def reader() -> Reader:
    """Return who reads what is told now."""
    return _READER.get()


def speak_to(somebody: Reader) -> None:
    """Tell everything to somebody from now on, in this context: a command, a process."""
    _READER.set(somebody)


@contextmanager
def told_to(somebody: Reader) -> Iterator[None]:
    """Tell everything within to somebody, and to the former reader again after it."""
    before = _READER.set(somebody)
    try:
        yield
    finally:
        _READER.reset(before)

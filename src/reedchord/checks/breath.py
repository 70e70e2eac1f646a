"""How long a breath lasts: one table, an assumption that every sentence states."""

from __future__ import annotations

from collections.abc import Sequence

from reedchord.dynamics import Dynamic
from reedchord.score_time.sounding_notes import SoundingNote

BREATH_SECONDS: dict[Dynamic, int] = {
    Dynamic.PPPP: 14,
    Dynamic.PPP: 14,
    Dynamic.PP: 13,
    Dynamic.P: 12,
    Dynamic.MP: 11,
    Dynamic.MF: 10,
    Dynamic.F: 8,
    Dynamic.FF: 6,
    Dynamic.FFF: 5,
    Dynamic.FFFF: 4,
}
"""Seconds that a sonority can be held on one breath: common practice, no source. Large
saxophones take more air, small ones less."""


def seconds_of_breath(dynamics: Sequence[Dynamic]) -> int:
    """Return the seconds of a breath at the loudest of some dynamics.

    Where none is known it is the longest, so that what is reported holds at any.
    """
    if not dynamics:
        return max(BREATH_SECONDS.values())
    return BREATH_SECONDS[max(dynamics, key=lambda dynamic: dynamic.level)]


def breath_words(dynamics: Sequence[Dynamic]) -> str:
    """Return what was assumed: `a breath lasts about 8 s at f (assumed)`."""
    seconds = seconds_of_breath(dynamics)
    if not dynamics:
        return f"a breath lasts {seconds} s at most, however soft (assumed)"
    loudest = max(dynamics, key=lambda dynamic: dynamic.level)
    return f"a breath lasts about {seconds} s at {loudest} (assumed)"


def is_breathed_at(note: SoundingNote) -> bool:
    """Whether a breath mark or a caesura stands at the end of a note."""
    marks = ("breath-mark", "caesura")
    return any(
        one.find(f"notations/articulations/{mark}") is not None
        for one in note.event.notes
        for mark in marks
    )

"""Written pitches where the score sounds as it is written, or the reverse."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.checked_score import Turn
from reedchord.checks.example import Example
from reedchord.checks.finding import Remedy, Severity
from reedchord.checks.rule import Problem, Rule

_TRANSPOSE = "<transpose><diatonic>-5</diatonic><chromatic>-9</chromatic></transpose>"


def _about(turn: Turn) -> Iterator[Problem]:
    here = turn.here
    is_concert = turn.checked.part(here).is_concert
    if here.row.is_concert == is_concert or not here.sonority.saxophone.semitones:
        return
    stands, part = ("concert", "written") if here.row.is_concert else ("written", "concert")
    yield Problem(
        f"{here.name} stands in {stands} pitch, and the part is in {part} pitch now",
        here.spot,
        (Remedy("strip the score, then place the sonorities again: they follow the part"),),
    )


RULE = Rule(
    "pitch.written-or-concert",
    Severity.ERROR,
    "A sonority stands in written pitch in a concert part, or the reverse.",
    about=_about,
    passes=(Example("mf bell/1", "written pitch in a transposing part"),),
    fails=(
        Example(
            "mf bell/1",
            "somebody took the transposition out after it was placed",
            edits=((_TRANSPOSE, ""),),
        ),
    ),
)

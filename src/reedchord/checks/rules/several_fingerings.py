"""Fingerings that readers lose: several at one chord, or none with a digit."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.checked_score import Turn
from reedchord.checks.example import Example
from reedchord.checks.finding import Remedy, Severity
from reedchord.checks.marks import fingerings_of
from reedchord.checks.rule import Problem, Rule


def _about(turn: Turn) -> Iterator[Problem]:
    there = fingerings_of(turn.here)
    if len(there) > 1:
        yield Problem(
            f"{turn.here.name} has {len(there)} fingerings: some readers keep one of them",
            turn.here.spot,
            (Remedy("one fingering, on the first note of the chord"),),
        )
    elif there and not any(sign.isdigit() and sign.isascii() for sign in there[0]):
        yield Problem(
            f"the fingering {there[0]!r} of {turn.here.name} has no digit: some readers stop there",
            turn.here.spot,
            (Remedy("name main keys by the digits 1, 2 and 3"),),
        )


RULE = Rule(
    "writing.fingering",
    Severity.NOTE,
    "A chord has several fingerings, or one without a digit, which some readers lose.",
    about=_about,
    passes=(Example("mf bell/1", "one fingering with digits"),),
    fails=(
        Example(
            "mf bell/1",
            "circles instead of digits",
            edits=(("L 1 2 3 | R 1 - 3 E♭", "●●● ●○●"),),
        ),
        Example(
            "mf bell/1",
            "a finger number beside it",
            edits=(("</technical>", "<fingering>2</fingering></technical>"),),
        ),
    ),
)

"""What had to be assumed of the tempo."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.checked_score import CheckedScore
from reedchord.checks.example import Example
from reedchord.checks.finding import Severity, Spot
from reedchord.checks.rule import Problem, Rule


def _throughout(checked: CheckedScore) -> Iterator[Problem]:
    if checked.placements:
        for assumption in dict.fromkeys(checked.tempo.assumptions):
            yield Problem(f"assumed: {assumption}", Spot())


RULE = Rule(
    "tempo.assumed",
    Severity.NOTE,
    "The score does not tell the tempo; what was assumed is said.",
    throughout=_throughout,
    passes=(
        Example("mf bell/1", "a metronome mark stands at the beginning"),
        Example("C5/1", "without a sonority the tempo does not matter here", tempo=None),
    ),
    fails=(Example("mf bell/1", "no tempo anywhere", tempo=None),),
)

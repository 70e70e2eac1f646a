"""Repeats and jumps that lead nowhere."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.checked_score import CheckedScore
from reedchord.checks.example import Example
from reedchord.checks.finding import Severity, Spot
from reedchord.checks.rule import Problem, Rule


def _throughout(checked: CheckedScore) -> Iterator[Problem]:
    if checked.unclear_repeats is not None:
        yield Problem(
            f"{checked.unclear_repeats}: the score is checked as if it were played once through",
            Spot(),
        )


RULE = Rule(
    "repeat.unclear",
    Severity.NOTE,
    "Repeats or jumps lead nowhere, so that changes over them are not checked.",
    throughout=_throughout,
    passes=(Example("mf bell/1", "no repeats"),),
    fails=(
        Example(
            "mf bell/1",
            "dal segno, and no segno",
            edits=(('<sound tempo="60"/>', '<sound tempo="60"/><sound dalsegno="a"/>'),),
        ),
    ),
)

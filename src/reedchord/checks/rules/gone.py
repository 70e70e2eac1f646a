"""A placement that the record has and the score has lost."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.checked_score import CheckedScore
from reedchord.checks.example import Example
from reedchord.checks.finding import Remedy, Severity, Spot
from reedchord.checks.rule import Problem, Rule


def _throughout(checked: CheckedScore) -> Iterator[Problem]:
    for found in checked.gone:
        row, where = found.row, found.where
        yield Problem(
            f"{row.label} {row.wish.sonority} is no longer there",
            Spot(part=where.part, bar=where.bar, beat=where.beat, label=row.label),
            (Remedy("place it again, or strip the score to forget it"),),
        )


RULE = Rule(
    "placement.missing",
    Severity.WARNING,
    "A sonority of the record no longer stands in the score.",
    throughout=_throughout,
    passes=(Example("mf bell/2 C5/2", "it is where it was placed"),),
    fails=(
        Example(
            "mf bell/2 C5/2",
            "its notes lost ids, footnote and pitches",
            edits=(
                ('id="rc-1-1"', ""),
                ('id="rc-1-2"', ""),
                ('id="rc-1-3"', ""),
                ("<footnote>M1:", "<footnote>"),
                ("<step>E</step>", "<step>G</step>"),
            ),
        ),
    ),
)

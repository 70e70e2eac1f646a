"""One label for two sonorities, or the wrong label above one."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.checked_score import CheckedScore
from reedchord.checks.example import Example
from reedchord.checks.finding import Remedy, Severity
from reedchord.checks.marks import labels_at
from reedchord.checks.rule import Problem, Rule


def _throughout(checked: CheckedScore) -> Iterator[Problem]:
    first: dict[str, str] = {}
    for here in checked.placements:
        label, name = here.row.label, here.sonority.id
        if first.setdefault(label, name) != name:
            yield Problem(f"{label} stands for {first[label]} and for {name}", here.spot)
            continue
        there = labels_at(checked, here)
        if there and label not in there:
            yield Problem(
                f"{there[0]} stands above {name}, whose label is {label}",
                here.spot,
                (Remedy(f"the words {label} above the chord"),),
            )


RULE = Rule(
    "label.two-sonorities",
    Severity.ERROR,
    "One label stands for two sonorities.",
    throughout=_throughout,
    passes=(Example("mf bell/2 knell/2", "M1 and M2"),),
    fails=(
        Example(
            "mf bell/2 knell/2",
            "M1 above both",
            edits=(("<words>M2\n", "<words>M1\n"),),
        ),
    ),
)

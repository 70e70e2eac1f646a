"""A sonority that was only carried over from another saxophone."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.checked_score import CheckedScore
from reedchord.checks.example import Example
from reedchord.checks.finding import Remedy, Severity
from reedchord.checks.rule import Problem, Rule
from reedchord.sonority_fields import Evidence


def _throughout(checked: CheckedScore) -> Iterator[Problem]:
    for here in checked.first_of_each():
        if here.sonority.evidence is Evidence.CARRIED:
            yield Problem(
                f"{here.name} was only carried over from another saxophone: nobody has tried it",
                here.spot,
                (Remedy("let the player try it before the score is final"),),
            )


RULE = Rule(
    "evidence.carried",
    Severity.WARNING,
    "A sonority was only carried over from another saxophone, and nobody has tried it.",
    throughout=_throughout,
    swappable=True,
    passes=(Example("mf bell/1", "a record for this very saxophone"),),
    fails=(Example("mf bell/1:carry", "an alto's fingering on the tenor", saxophone="tenor"),),
)

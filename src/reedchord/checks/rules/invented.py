"""A sonority that somebody made up, in a score that is to be played."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.checked_score import CheckedScore
from reedchord.checks.example import Example
from reedchord.checks.finding import Remedy, Severity
from reedchord.checks.rule import Problem, Rule
from reedchord.sonority_fields import Evidence


def _throughout(checked: CheckedScore) -> Iterator[Problem]:
    for here in checked.first_of_each():
        if here.sonority.evidence is Evidence.INVENTED:
            yield Problem(
                f"{here.name} is made up: no instrument was played",
                here.spot,
                (Remedy("a record of a real player instead"),),
            )


RULE = Rule(
    "evidence.invented",
    Severity.ERROR,
    "A sonority is made up, and the score is meant for performance (--for-performance).",
    throughout=_throughout,
    performance_only=True,
    passes=(Example("mf bell/1", "made up, in a score that is only a trial"),),
    fails=(Example("mf bell/1", "made up, in a score for performance", for_performance=True),),
)

"""A sonority that came otherwise, when the player tried it, than the score has it."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.checked_score import CheckedScore
from reedchord.checks.example import Example
from reedchord.checks.finding import Remedy, Severity
from reedchord.checks.rule import Problem, Rule
from reedchord.placement.follow import DEFAULT_OVER_CENTS
from reedchord.trials.tried_text import differences

FOLLOW = Remedy("let the score follow: reedchord follow SCORE --set-up SETUP")


def _throughout(checked: CheckedScore) -> Iterator[Problem]:
    for here in checked.first_of_each():
        tried = checked.tried.get(here.sonority.id)
        if tried is None or not tried.speaks:
            continue
        found = [
            f"{one.what}: {one.tried} (in the score: {one.documented})"
            for one in differences(tried, over_cents=DEFAULT_OVER_CENTS)
            if one.what != "evidence"
        ]
        if found:
            words = f"{here.name} came otherwise with {tried.set_up.id}: {'; '.join(found)}"
            yield Problem(words, here.spot, (FOLLOW,))


RULE = Rule(
    "trial.otherwise",
    Severity.WARNING,
    "The sonority came otherwise with the player's set-up than the score has it.",
    throughout=_throughout,
    passes=(
        Example("mf bell/1", "nobody tried it"),
        Example("mf bell/1", "it came as the score has it", heard=(("bell", "2: p-f"),)),
        Example("mf bell/1", "it came 5 cents lower", heard=(("bell", "2 = C5-25"),)),
        Example("mf bell/1", "it did not speak, which is told already", silent=("bell",)),
    ),
    fails=(
        Example("mf bell/1", "it came 40 cents lower", heard=(("bell", "2 = C5-60"),)),
        Example("mf bell/1", "its lowest tone did not come", heard=(("bell", "1: none"),)),
    ),
)

"""A sonority that did not speak when the player tried it."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.checked_score import Turn
from reedchord.checks.example import Example
from reedchord.checks.finding import Severity
from reedchord.checks.rule import Problem, Rule


def _about(turn: Turn) -> Iterator[Problem]:
    here = turn.here
    tried = turn.checked.tried.get(here.sonority.id)
    if tried is not None and not tried.speaks:
        when = f"{tried.latest[0].date}, with {tried.set_up.id}"
        yield Problem(f"{here.name} did not speak on {when}", here.spot)


RULE = Rule(
    "trial.silent",
    Severity.ERROR,
    "The sonority did not speak with the player's set-up.",
    about=_about,
    swappable=True,
    passes=(
        Example("mf bell/1", "nobody tried it"),
        Example("mf bell/1", "another one did not speak", silent=("gong",)),
    ),
    fails=(Example("mf bell/1", "it did not speak", silent=("bell",)),),
)

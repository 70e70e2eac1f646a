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
    if tried is None:
        return
    if not tried.speaks:
        telling, how = tried.latest, ""
    elif all(tried.speaks_with(way) is False for way in here.ways):
        telling = tuple(one for one in tried.trials if one.attack in here.ways)
        how = f" by {' or '.join(here.ways)}"
    else:
        return
    when = f"{telling[-1].date}, with {tried.set_up.id}"
    yield Problem(f"{here.name} did not speak{how} on {when}", here.spot)


SPOKE = (("bell", "2: p-f"),)

RULE = Rule(
    "trial.silent",
    Severity.ERROR,
    "The sonority did not speak with the player's set-up.",
    about=_about,
    swappable=True,
    passes=(
        Example("mf bell/1", "nobody tried it"),
        Example("mf bell/1", "another one did not speak", silent=("gong",)),
        Example("mf bell/1", "only a slap failed", silent=("bell:slap",), heard=SPOKE),
        Example("f bell/4:slap", "only breath failed", silent=("bell:breath",), heard=SPOKE),
    ),
    fails=(
        Example("mf bell/1", "it did not speak", silent=("bell",)),
        Example("f bell/4:slap", "a slap failed", silent=("bell:slap",), heard=SPOKE),
    ),
)

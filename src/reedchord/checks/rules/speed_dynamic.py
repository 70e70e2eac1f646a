"""A dynamic that is not possible at the speed that is asked for."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.checked_score import Turn
from reedchord.checks.example import Example
from reedchord.checks.finding import Remedy, Severity
from reedchord.checks.rule import Problem, Rule
from reedchord.checks.words import rate_words

COUNTS_FROM = 0.5
"""The dynamics of a limit are asked for from half of its speed on: more slowly everything that
the sonority can do is possible (common practice, no source)."""


def _about(turn: Turn) -> Iterator[Problem]:
    here = turn.here
    asked, dynamic = here.attacks_per_second, here.dynamic
    enough = [
        limit
        for limit in here.limits
        if asked is not None and limit.fastest.attacks_per_second >= asked * (1 - 1e-9)
    ]
    if dynamic is None or asked is None or not enough:
        return
    possible_at_all = here.sonority.possible_dynamics()
    if possible_at_all is not None and dynamic not in possible_at_all:
        return  # which is found for itself
    near = [limit for limit in enough if asked >= COUNTS_FROM * limit.fastest.attacks_per_second]
    if len(near) < len(enough):
        return
    ranges = [limit.dynamics for limit in near]
    if all(one is not None and dynamic not in one for one in ranges):
        possible = " or ".join(dict.fromkeys(str(one) for one in ranges))
        yield Problem(
            f"{here.name} is asked for at {dynamic} in {rate_words(here)}; at that speed "
            f"{possible} is possible",
            here.spot,
            (Remedy(f"another dynamic: {possible}"),),
        )


RULE = Rule(
    "speed.dynamic",
    Severity.ERROR,
    "The dynamic is not possible at the speed that is asked for.",
    about=_about,
    swappable=True,
    passes=(
        Example("mf bell/16 bell/16 bell/16 bell/16", "mf is among the dynamics of the limit"),
        Example("p bell/1 C5/1", "slow enough for every dynamic of the sonority"),
    ),
    fails=(Example("p bell/16 bell/16 bell/16 bell/16", "semiquavers do not speak at p"),),
)

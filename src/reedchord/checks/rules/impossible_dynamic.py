"""A dynamic at which the sonority does not speak at all."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.checked_score import Turn
from reedchord.checks.example import Example
from reedchord.checks.finding import Remedy, Severity
from reedchord.checks.rule import Problem, Rule


def _about(turn: Turn) -> Iterator[Problem]:
    here = turn.here
    possible = here.sonority.possible_dynamics()
    if possible is None:
        return
    beyond = [mark for mark in here.dynamics if mark not in possible]
    if beyond:
        goes = "is asked for at" if beyond[0] is here.dynamic else "is to go to"
        yield Problem(
            f"{here.name} {goes} {beyond[0]}; it speaks at {possible}",
            here.spot,
            (Remedy(f"another dynamic: {possible}"),),
        )


RULE = Rule(
    "dynamic.impossible",
    Severity.ERROR,
    "The sonority does not speak at this dynamic.",
    about=_about,
    swappable=True,
    passes=(
        Example("p bell/1", "p is the softest that it speaks at"),
        Example("bell/1", "nobody has said how loud, so nothing is wrong yet"),
    ),
    fails=(
        Example("f lamp/1", "a soft one, asked for loudly"),
        Example("p gong/1", "a loud one, asked for softly"),
        Example("f < bell/1 ! ff", "a crescendo beyond what it bears"),
    ),
)

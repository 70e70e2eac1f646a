"""A sonority of one saxophone in the part of another."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.checked_score import Turn
from reedchord.checks.example import Example
from reedchord.checks.finding import Remedy, Severity
from reedchord.checks.rule import Problem, Rule


def _about(turn: Turn) -> Iterator[Problem]:
    here = turn.here
    member = turn.checked.part(here).member
    if member is not None and member != here.sonority.saxophone:
        yield Problem(
            f"{here.name} is for {here.sonority.saxophone}, and the part is for {member}",
            here.spot,
            (Remedy(f"swap it with --carry, or for a sonority of the {member}"),),
        )


RULE = Rule(
    "saxophone.other",
    Severity.ERROR,
    "A sonority stands in the part of another saxophone than its own.",
    about=_about,
    passes=(Example("mf bell/1", "an alto sonority in the alto's part"),),
    fails=(
        Example(
            "mf bell/1",
            "the part went from alto to tenor after the sonority was placed",
            edits=(("Alto Saxophone", "Tenor Saxophone"),),
        ),
    ),
)

"""A placement that somebody edited since."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.checked_score import Turn
from reedchord.checks.example import Example
from reedchord.checks.finding import Remedy, Severity
from reedchord.checks.rule import Problem, Rule
from reedchord.placement.found import State


def _about(turn: Turn) -> Iterator[Problem]:
    found = turn.here.found
    if found.state is State.EDITED:
        yield Problem(
            f"{turn.here.name} was edited since it was placed: {'; '.join(found.differences)}",
            turn.here.spot,
            (Remedy("give the chord its tones and its length back, or place it anew"),),
        )


RULE = Rule(
    "placement.edited",
    Severity.WARNING,
    "A placed sonority was edited: its tones or its length are not those of its record.",
    about=_about,
    passes=(Example("mf bell/2 C5/2", "as it was placed"),),
    fails=(
        Example(
            "mf bell/2 C5/2",
            "E became D",
            edits=(("<step>E</step>", "<step>D</step>"),),
        ),
    ),
)

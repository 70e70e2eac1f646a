"""A sonority without its label."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.checked_score import Turn
from reedchord.checks.example import Example
from reedchord.checks.finding import Remedy, Severity
from reedchord.checks.marks import labels_at, words_at
from reedchord.checks.rule import Problem, Rule

WRITE_AGAIN = Remedy("write all marks anew: reedchord plan SCORE, strip it, place the plan")


def _about(turn: Turn) -> Iterator[Problem]:
    here = turn.here
    label = here.row.label
    if labels_at(turn.checked, here):
        return
    if not any(label in words.split() for words in words_at(turn.checked, here)):
        yield Problem(
            f"the label {label} of {here.sonority.id} is not there",
            here.spot,
            (Remedy(f"the words {label} above the chord"), WRITE_AGAIN),
        )


RULE = Rule(
    "marks.label",
    Severity.WARNING,
    "The label of a sonority is missing, so nobody finds its fingering.",
    about=_about,
    passes=(Example("mf bell/2 bell/2", "M1 stands above both"),),
    fails=(
        Example(
            "mf bell/2 bell/2",
            "somebody took the second label out",
            edits=(("<words>M1</words>", "<words>dolce</words>"),),
        ),
    ),
)

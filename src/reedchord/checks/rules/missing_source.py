"""The hidden note with fingering and source: missing, or not the same at different places."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.checked_score import CheckedScore, Turn
from reedchord.checks.example import Example
from reedchord.checks.finding import Severity
from reedchord.checks.marks import footnotes_of
from reedchord.checks.rule import Problem, Rule
from reedchord.checks.rules.missing_label import WRITE_AGAIN
from reedchord.placement.appearance import footnote
from reedchord.placement.found import State


def _about(turn: Turn) -> Iterator[Problem]:
    here = turn.here
    wanted = footnote(here.row.label, turn.checked.recorded(here))
    there = footnotes_of(here)
    if wanted in there or here.found.state is State.EDITED or _all_lost(turn.checked):
        return
    if not there:
        yield Problem(f"{here.name} has lost the note of its source", here.spot, (WRITE_AGAIN,))
        return
    yield Problem(
        f"the note of the source of {here.name} reads {there[0]!r}; its record has {wanted!r}",
        here.spot,
        (WRITE_AGAIN,),
    )


def _all_lost(checked: CheckedScore) -> bool:
    """Whether a program dropped every footnote: it keeps them out of all files."""
    return not any(footnotes_of(played) for played in checked.placements)


RULE = Rule(
    "marks.source",
    Severity.WARNING,
    "The note of a sonority's source is missing, or differs from its record.",
    about=_about,
    passes=(Example("mf bell/2 bell/2", "every place keeps fingering and source"),),
    fails=(
        Example(
            "mf bell/2 knell/2",
            "the source of the second was changed by hand",
            edits=(("low C; invented", "low C; from a book"),),
        ),
    ),
)

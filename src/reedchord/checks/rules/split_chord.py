"""Something between the notes of a chord."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.checked_score import CheckedScore
from reedchord.checks.example import Example
from reedchord.checks.finding import Remedy, Severity
from reedchord.checks.rule import Problem, Rule

_NOTE = '<note id="rc-1-2">'
_WORDS = "<direction><direction-type><words>dolce</words></direction-type></direction>"


def _throughout(checked: CheckedScore) -> Iterator[Problem]:
    for chord in checked.chords:
        children = chord.event.children
        if children[-1] - children[0] != len(children) - 1:
            yield Problem(
                f"something stands between the notes of {chord.words}: some readers make two "
                "chords of it",
                chord.spot,
                (Remedy("put it before the first note of the chord"),),
            )


RULE = Rule(
    "writing.split-chord",
    Severity.WARNING,
    "A direction or the like stands between the notes of a chord.",
    throughout=_throughout,
    passes=(Example("mf bell/1", "notes only, one after the other"),),
    fails=(Example("mf bell/1", "words inside", edits=((_NOTE, _WORDS + _NOTE),)),),
)

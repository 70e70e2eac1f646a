"""Dynamics on the notes of a chord."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.checked_score import CheckedScore
from reedchord.checks.example import Example
from reedchord.checks.finding import Remedy, Severity
from reedchord.checks.rule import Problem, Rule

_P = "<notations><dynamics><p/></dynamics></notations>"


def _throughout(checked: CheckedScore) -> Iterator[Problem]:
    for chord in checked.chords:
        marked = [n for n in chord.event.notes if n.find("notations/dynamics") is not None]
        if len(marked) > 1:
            yield Problem(
                f"{len(marked)} notes of {chord.words} have dynamics of their own: readers print "
                "them on top of each other, or drop them",
                chord.spot,
                (Remedy("one dynamic below the chord, and words for single tones"),),
            )


RULE = Rule(
    "writing.note-dynamics",
    Severity.NOTE,
    "Several notes of a chord have dynamics of their own, which readers print over each other.",
    throughout=_throughout,
    passes=(Example("mf bell/1", "one dynamic for the chord"),),
    fails=(
        Example(
            "mf [C5+E5]/1",
            "one for each note",
            edits=(
                ("</note><note><chord/>", f"{_P}</note><note><chord/>"),
                ("</note></measure>", f"{_P}</note></measure>"),
            ),
        ),
    ),
)

"""Parentheses around a notehead that has another a second away."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.checked_score import CheckedScore
from reedchord.checks.example import Example
from reedchord.checks.finding import Remedy, Severity
from reedchord.checks.rule import Problem, Rule
from reedchord.musicxml.event import Event
from reedchord.pitch import Pitch


def _throughout(checked: CheckedScore) -> Iterator[Problem]:
    for chord in checked.chords:
        for pitch in _covering(chord.event):
            yield Problem(
                f"the parentheses around {pitch.printed()} of {chord.words} cover the note a "
                "second away",
                chord.spot,
                (Remedy("grey without parentheses"),),
            )


def _covering(event: Event) -> Iterator[Pitch]:
    for note, pitch in zip(event.notes, event.pitches, strict=True):
        head = note.find("notehead")
        if head is None or head.get("parentheses") != "yes":
            continue
        gaps = [abs(other.staff_position - pitch.staff_position) for other in event.pitches]
        if gaps.count(0) > 1 or 1 in gaps:
            yield pitch


RULE = Rule(
    "writing.parentheses",
    Severity.NOTE,
    "Parentheses around a notehead cover another a second away.",
    throughout=_throughout,
    passes=(Example("mf bell/1", "parentheses, and nothing near"),),
    fails=(
        Example(
            "mf pair/1",
            "the tones lie a second apart",
            edits=(
                (
                    '<notehead color="#808080">',
                    '<notehead parentheses="yes" color="#808080">',
                ),
            ),
        ),
    ),
)

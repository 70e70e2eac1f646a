"""Two tones on one line or space, or crossing: readers draw them differently."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from reedchord.checks.checked_score import CheckedScore
from reedchord.checks.example import Example
from reedchord.checks.finding import Remedy, Severity
from reedchord.checks.rule import Problem, Rule


def _throughout(checked: CheckedScore) -> Iterator[Problem]:
    for chord in checked.chords:
        for low, high in pairwise(sorted(chord.event.pitches, key=lambda pitch: pitch.cents)):
            if low.staff_position >= high.staff_position and low != high:
                yield Problem(
                    f"{low.printed()} and {high.printed()} of {chord.words} share a line or cross",
                    chord.spot,
                    (Remedy("spell one of them a step away"),),
                )
                break


RULE = Rule(
    "writing.same-line",
    Severity.WARNING,
    "Two tones of a chord share a line or space, or cross: readers draw them differently.",
    throughout=_throughout,
    passes=(
        Example("mf bell/1", "three lines"),
        Example("mf [E5+F5]/1", "a second, side by side"),
    ),
    fails=(
        Example("mf [F4+F#4]/1", "F and F sharp"),
        Example("mf [B#4+Cb5]/1", "they cross"),
    ),
)

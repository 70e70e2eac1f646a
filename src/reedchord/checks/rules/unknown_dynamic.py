"""Sonorities for which nobody has said how loud they are."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.checked_score import CheckedScore
from reedchord.checks.example import Example
from reedchord.checks.finding import Remedy, Severity
from reedchord.checks.rule import Problem, Rule


def _throughout(checked: CheckedScore) -> Iterator[Problem]:
    for part in checked.parts:
        unknown = [
            one
            for one in checked.placements
            if one.spot.part_id == part.music.part.id and one.dynamic is None
        ]
        if unknown:
            many = f" (and {len(unknown) - 1} later)" if len(unknown) > 1 else ""
            yield Problem(
                f"no dynamic is in force at {unknown[0].name}{many}: dynamics are not checked",
                unknown[0].spot,
                (Remedy("a dynamic mark in the part before it"),),
            )


RULE = Rule(
    "dynamic.unknown",
    Severity.NOTE,
    "No dynamic is in force at a sonority, so what depends on it is not checked.",
    throughout=_throughout,
    passes=(Example("p C5/4 bell/4", "p holds on"),),
    fails=(Example("bell/4 p C5/4", "the mark comes too late"),),
)

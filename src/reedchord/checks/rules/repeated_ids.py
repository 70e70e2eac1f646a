"""One id on two notes."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.checked_score import CheckedScore
from reedchord.checks.example import Example
from reedchord.checks.finding import Remedy, Severity
from reedchord.checks.rule import Problem, Rule
from reedchord.musicxml.bar_contents import note_ids


def _throughout(checked: CheckedScore) -> Iterator[Problem]:
    seen: set[str] = set()
    for part in checked.parts:
        for bar in part.music.part.bars:
            for name in note_ids(bar.element):
                if name in seen:
                    timeline = part.music.bar(bar.index)
                    events = (*timeline.events, *timeline.graces)
                    owners = [e for e in events if any(n.get("id") == name for n in e.notes)]
                    yield Problem(
                        f"the id {name} stands on two notes: programs find the first only",
                        part.spot(bar.index, owners[-1]),
                        (Remedy("take the id out of the copy"),),
                    )
                seen.add(name)


RULE = Rule(
    "writing.ids",
    Severity.WARNING,
    "Two notes have one id, as after copying a sonority.",
    throughout=_throughout,
    passes=(Example("mf bell/2 bell/2", "ids of their own"),),
    fails=(Example("mf bell/2 bell/2", "copied", edits=(('id="rc-2-1"', 'id="rc-1-1"'),)),),
)

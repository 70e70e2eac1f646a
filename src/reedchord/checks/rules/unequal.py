"""Notes of one chord that differ in duration, type or voice."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.checked_score import CheckedScore
from reedchord.checks.example import Example
from reedchord.checks.finding import Remedy, Severity
from reedchord.checks.rule import Problem, Rule

_ALIKE = ("duration", "type", "voice", "staff")


def _throughout(checked: CheckedScore) -> Iterator[Problem]:
    for chord in checked.chords:
        for tag in _ALIKE:
            texts = {(note.findtext(tag) or "").strip() for note in chord.event.notes}
            if len(texts) > 1:
                told = " and ".join(text or "none" for text in sorted(texts))
                yield Problem(
                    f"the notes of {chord.words} have different {tag}: {told}",
                    chord.spot,
                    (Remedy(f"one {tag} for all of them"),),
                )
                break


RULE = Rule(
    "writing.unequal",
    Severity.WARNING,
    "The notes of one chord differ in duration, type, voice or staff.",
    throughout=_throughout,
    passes=(Example("mf bell/1", "all alike"),),
    fails=(
        Example(
            "mf bell/1",
            "one note is a half",
            edits=(("<type>whole</type>", "<type>half</type>"),),
        ),
    ),
)

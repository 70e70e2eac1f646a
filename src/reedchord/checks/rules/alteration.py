"""Alterations and accidentals that programs read differently."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from reedchord.checks.checked_score import CheckedScore, WrittenChord
from reedchord.checks.example import Example
from reedchord.checks.finding import Remedy, Severity
from reedchord.checks.rule import Problem, Rule

FINEST_CENTS = 50
MOST_CENTS = 100


def _throughout(checked: CheckedScore) -> Iterator[Problem]:
    for chord in checked.chords:
        sentence = next(_sentences(chord), None)
        if sentence is not None:
            remedy = Remedy("quarter tones from flat to sharp, each with its accidental")
            yield Problem(sentence, chord.spot, (remedy,))


def _sentences(chord: WrittenChord) -> Iterator[str]:
    for note, pitch in zip(chord.event.notes, chord.event.pitches, strict=True):
        alteration = pitch.alteration_cents
        is_signed = note.find("accidental") is not None
        is_tied = any(tie.get("type") == "stop" for tie in note.iterfind("tie"))
        if Fraction(alteration) % FINEST_CENTS:
            yield (
                f"an alter of {float(alteration / 100):g} in {chord.words} is no quarter tone: "
                "some readers draw a wrong sign, some lose the file"
            )
        elif abs(alteration) > MOST_CENTS:
            yield f"{pitch.printed()} of {chord.words} is altered by more than a semitone"
        elif chord.played is not None and not is_signed and not is_tied:
            yield f"{pitch.printed()} of {chord.words} has no accidental of its own"


RULE = Rule(
    "writing.alter",
    Severity.WARNING,
    "A tone's alteration is no quarter tone between flat and sharp, or has no accidental.",
    throughout=_throughout,
    passes=(Example("mf bell/1", "quarter tones with their signs"),),
    fails=(
        Example(
            "mf bell/1",
            "a decimal as alter",
            edits=(("<step>E</step>", "<step>E</step><alter>0.31</alter>"),),
        ),
        Example(
            "mf bell/1",
            "an accidental was taken out",
            edits=(("<accidental>natural</accidental>", ""),),
        ),
    ),
)

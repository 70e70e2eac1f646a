"""A part that transposes otherwise than its saxophone."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.checked_score import CheckedScore
from reedchord.checks.example import Example
from reedchord.checks.finding import Remedy, Severity, Spot
from reedchord.checks.rule import Problem, Rule
from reedchord.saxophones import FAMILY

_TRANSPOSE = "<diatonic>-5</diatonic><chromatic>-9</chromatic>"


def _throughout(checked: CheckedScore) -> Iterator[Problem]:
    for part in checked.parts:
        member, music = part.member, part.music
        if member is None or part.is_concert or not music.part.bars:
            continue
        transpose = music.bar(0).opening_state.transpose()
        if transpose is not None and transpose.semitones != member.semitones:
            fits = [m.name for m in FAMILY.values() if m.semitones == transpose.semitones]
            like = f", as a {fits[0]} saxophone does" if fits else ""
            yield Problem(
                f"the part is for {member} and transposes by {transpose.semitones} semitones"
                f"{like}, instead of {member.semitones}",
                Spot(music.part.id, str(music.part), 0, str(music.part.bars[0])),
                (Remedy(f"a <transpose> of {member.semitones} semitones"),),
            )


RULE = Rule(
    "pitch.transposition",
    Severity.WARNING,
    "A saxophone's part transposes otherwise than that saxophone.",
    throughout=_throughout,
    passes=(
        Example("C5/1", "alto: a major sixth down"),
        Example("C5/1", "tenor: a major ninth down", saxophone="tenor"),
    ),
    fails=(
        Example(
            "C5/1",
            "an alto that transposes like a soprano",
            edits=((_TRANSPOSE, "<diatonic>-1</diatonic><chromatic>-2</chromatic>"),),
        ),
    ),
)

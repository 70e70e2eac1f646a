"""Later notes of a bar that read otherwise after a sonority's accidentals."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.checked_score import CheckedScore
from reedchord.checks.example import Example
from reedchord.checks.finding import Remedy, Severity
from reedchord.checks.rule import Problem, Rule
from reedchord.musicxml.accidental_state import misreadings


def _throughout(checked: CheckedScore) -> Iterator[Problem]:
    bars = {
        (played.spot.part_id, index)
        for played in checked.placements
        for index, _ in played.found.chain
    }
    for part in checked.parts:
        for bar_index in sorted(index for name, index in bars if name == part.music.part.id):
            timeline = part.music.bar(bar_index)
            for wrong in misreadings(timeline):
                event = next(
                    one for one in timeline.events if one.onset_quarters == wrong.onset_quarters
                )
                yield Problem(
                    f"{wrong.pitch.printed()} reads as {wrong.read_as.printed()} after the "
                    "accidentals before it",
                    part.spot(bar_index, event),
                    (Remedy("an accidental of its own"),),
                )


RULE = Rule(
    "writing.misread",
    Severity.WARNING,
    "A note reads otherwise than it sounds after the accidentals of a sonority.",
    throughout=_throughout,
    passes=(Example("mf bell/2 D5/2", "another line"),),
    fails=(Example("mf spike/2 G4/2", "G after G sharp on the same line"),),
)

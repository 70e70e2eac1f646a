"""A key that this saxophone lacks, or that not every one of its kind has."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.checked_score import CheckedScore
from reedchord.checks.example import Example
from reedchord.checks.finding import Severity
from reedchord.checks.rule import Problem, Rule
from reedchord.fingering import uncertain_keys, unknown_keys


def _throughout(checked: CheckedScore) -> Iterator[Problem]:
    told: set[tuple[str, str | None]] = set()
    for here in checked.placements:
        member = checked.part(here).member or here.sonority.saxophone
        key = (here.sonority.id, here.spot.part_id)
        if key in told:
            continue
        told.add(key)
        fingering = here.sonority.fingering
        # The low A is on every baritone that is made today (common practice, no source).
        some = [name for name in uncertain_keys(fingering, member.name) if name != "low A"]
        for name in unknown_keys(fingering, member.name):
            yield Problem(f"{here.name} needs the {name} key, which the {member} lacks", here.spot)
        for name in some:
            yield Problem(
                f"{here.name} needs the {name} key, which not every {member} has", here.spot
            )


RULE = Rule(
    "saxophone.key",
    Severity.WARNING,
    "A fingering needs a key that this saxophone, or not every one of its kind, has.",
    throughout=_throughout,
    passes=(Example("mf bell/1", "keys that every alto has"),),
    fails=(
        Example("mf spike/1", "high F sharp is not on every alto"),
        Example(
            "mf deep/1",
            "a low A key, on a part that went from baritone to tenor",
            saxophone="baritone",
            edits=(("Baritone Saxophone", "Tenor Saxophone"),),
        ),
    ),
)

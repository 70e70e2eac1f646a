"""A fingering that is missing, or not the same at different places."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.checked_score import CheckedScore
from reedchord.checks.example import Example
from reedchord.checks.finding import Remedy, Severity
from reedchord.checks.marks import fingerings_of
from reedchord.checks.rule import Problem, Rule
from reedchord.placement.style import Shown


def _throughout(checked: CheckedScore) -> Iterator[Problem]:
    style = checked.record.style.fingering if checked.record else Shown.NEVER
    printed = {one.sonority.id for one in checked.placements if fingerings_of(one)}
    for here in checked.placements:
        wanted, there = here.sonority.fingering.short(), fingerings_of(here)
        other = [text for text in there if text != wanted and _is_ours(text)]
        # One place is enough where only the first is to have it.
        missing = style is Shown.ALWAYS or (
            style is Shown.FIRST and here.sonority.id not in printed
        )
        remedy = (Remedy(f"the fingering {wanted}"),)
        if other:
            yield Problem(
                f"the fingering of {here.name} reads {other[0]!r}, and its record has {wanted!r}",
                here.spot,
                remedy,
            )
        elif missing and not there:
            printed.add(here.sonority.id)
            yield Problem(f"the fingering of {here.name} is not there", here.spot, remedy)


def _is_ours(text: str) -> bool:
    """Whether a text is longer than the finger number that a composer may write."""
    return len(text) > 1


RULE = Rule(
    "marks.fingering",
    Severity.WARNING,
    "A sonority's fingering is missing, or differs from its record.",
    throughout=_throughout,
    passes=(Example("mf bell/2 bell/2", "the fingering stands at the first place"),),
    fails=(
        Example(
            "mf bell/2 bell/2",
            "somebody changed it by hand",
            edits=((">L 1 2 3 | R 1 - 3 E♭<", ">L 1 2 3 | R 1 - 3<"),),
        ),
        Example(
            "mf bell/2 bell/2",
            "somebody took it out",
            edits=(
                (
                    '<fingering placement="above">L 1 2 3 | R 1 - 3 E♭</fingering>',
                    "",
                ),
            ),
        ),
    ),
)

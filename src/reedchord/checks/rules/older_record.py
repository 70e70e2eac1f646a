"""A record in the score that the collection has corrected since."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.checked_score import CheckedScore
from reedchord.checks.example import Example
from reedchord.checks.finding import Remedy, Severity
from reedchord.checks.rule import Problem, Rule
from reedchord.sonority import Sonority


def _throughout(checked: CheckedScore) -> Iterator[Problem]:
    for here in checked.first_of_each():
        name = here.sonority.id
        if checked.collection is None or name not in checked.collection:
            continue
        now = checked.collection[name]
        changed = _changed_fields(here.sonority, now)
        if changed:
            remedy = Remedy("swap it for the collection's record of the same id", swap_to=name)
            yield Problem(
                f"the collection has another record of {here.name} by now: "
                f"{', '.join(changed)} changed",
                here.spot,
                (remedy,),
            )


def _changed_fields(old: Sonority, new: Sonority) -> list[str]:
    before, after = old.model_dump(mode="json"), new.model_dump(mode="json")
    return [name for name in after if before.get(name) != after[name]]


RULE = Rule(
    "record.older",
    Severity.WARNING,
    "The score holds another record of a sonority than the collection.",
    throughout=_throughout,
    passes=(Example("mf bell/1", "the same record in both"),),
    fails=(
        Example(
            "mf bell/1",
            "the score's record has other dynamics than the collection's",
            edits=(('"dynamics":"p-f","limits"', '"dynamics":"p-ff","limits"'),),
        ),
    ),
)

"""A sonority that has no time to speak: as a grace note, or in the shortest of notes."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.checked_score import Turn
from reedchord.checks.example import Example
from reedchord.checks.finding import Remedy, Severity
from reedchord.checks.rule import Problem, Rule

SHORTEST_SECONDS = 0.1
"""A sound that splits needs longer than an ordinary note to settle: common practice, no source."""


def _about(turn: Turn) -> Iterator[Problem]:
    here = turn.here
    if here.is_grace:
        sentence = f"{here.name} is a grace note, which has no time of its own to speak in"
        yield Problem(sentence, here.spot, (Remedy("a note of its own, however short"),))
    elif here.seconds < SHORTEST_SECONDS:
        inside = here.found.chain[0][1].first.find("time-modification") is not None
        yield Problem(
            f"{here.name} lasts {round(here.seconds * 1000)} ms{' in a tuplet' if inside else ''}; "
            f"a sonority takes about {round(SHORTEST_SECONDS * 1000)} ms to speak (assumed)",
            here.spot,
            (Remedy("a longer value"),),
        )


RULE = Rule(
    "speed.cannot-speak",
    Severity.WARNING,
    "A grace note, or a note of a fast tuplet, leaves the sonority no time to speak.",
    about=_about,
    passes=(
        Example("mf bell/8t r/8t r/8t", "a triplet of quavers at 60 is slow enough"),
        Example("mf bell/16 r/16 r/8", "a quarter of a second"),
    ),
    fails=(
        Example("mf bell/g C5/4", "a grace note"),
        Example("mf bell/32t r/32t r/32t r/16", "one twelfth of a second"),
    ),
)

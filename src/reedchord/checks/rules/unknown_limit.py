"""A fast sonority whose record does not tell how fast it can be."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.checked_score import CheckedScore
from reedchord.checks.example import Example
from reedchord.checks.finding import Severity
from reedchord.checks.rule import Problem, Rule
from reedchord.checks.words import rate_words

FAST_FROM_ATTACKS_PER_SECOND = 2
"""More slowly than this a missing limit is not worth a word (common practice, no source)."""


def _throughout(checked: CheckedScore) -> Iterator[Problem]:
    told: set[tuple[str, str]] = set()
    for here in checked.placements:
        asked, way = here.attacks_per_second, " or ".join(here.ways)
        unmeasured = here.strokes is None
        is_fast = unmeasured or (asked or 0) >= FAST_FROM_ATTACKS_PER_SECOND
        key = (here.sonority.id, "tremolo" if unmeasured else way)
        if not is_fast or (here.limits and not unmeasured) or key in told:
            continue
        told.add(key)
        if unmeasured:
            sentence = f"{here.name} is an unmeasured tremolo: how fast it is meant is not known"
        else:
            sentence = (
                f"{here.name} is asked for in {rate_words(here)}; how fast it can be ({way}) is "
                "not in its record"
            )
        yield Problem(sentence, here.spot)


RULE = Rule(
    "speed.unknown",
    Severity.NOTE,
    "A sonority is asked for fast, and its record does not tell how fast it can be.",
    throughout=_throughout,
    passes=(
        Example("p lamp/2 C5/2", "slow, so the missing limit does not matter"),
        Example("mf bell/8 bell/8", "its record has a limit"),
    ),
    fails=(Example("p lamp/8 C5/8 C5/4", "a quaver at 60, and nobody knows"),),
)

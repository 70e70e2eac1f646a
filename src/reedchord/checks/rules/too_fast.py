"""A sonority that is to be begun again sooner than it can."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.checked_score import Turn
from reedchord.checks.example import Example
from reedchord.checks.finding import Severity
from reedchord.checks.rule import Problem, Rule
from reedchord.checks.words import number, rate_words, slower


def _about(turn: Turn) -> Iterator[Problem]:
    here = turn.here
    asked, limits = here.attacks_per_second, here.limits
    if asked is None or not limits:
        return
    fastest = limits[0].fastest
    possible = float(fastest.attacks_per_second)
    if asked > possible * (1 + 1e-9):
        yield Problem(
            f"{here.name} is asked for in {rate_words(here)}; its limit is {fastest.words()} "
            f"({number(possible)} attacks a second, {limits[0].articulation})",
            here.spot,
            slower(here, possible / asked),
        )


RULE = Rule(
    "speed.too-fast",
    Severity.ERROR,
    "A sonority is asked for faster than its record's limit.",
    about=_about,
    swappable=True,
    passes=(
        Example("mf bell/16 bell/16 bell/16 bell/16", "semiquavers at 60 lie below its limit"),
        Example("mf bell/32 r/32 r/16 r/8 bell/4", "one short sonority and a rest is no speed"),
        Example("mf bell/4 C5/4", "crotchets are easy"),
    ),
    fails=(
        Example("mf bell/16 bell/16 bell/16 bell/16", "at 80 they lie above it", tempo=80),
        Example("f gong/8 C5/8", "a quaver before another note, with a limit of crotchets"),
        Example("mf bell/2~4 r/2", "64ths as a tremolo"),
        Example("f bell/16:slap bell/16:slap", "slaps have a lower limit of their own"),
    ),
)

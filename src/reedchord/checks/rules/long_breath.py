"""A sonority that is longer than a breath."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.breath import breath_words, seconds_of_breath
from reedchord.checks.checked_score import Turn
from reedchord.checks.example import Example
from reedchord.checks.finding import Severity
from reedchord.checks.rule import Problem, Rule
from reedchord.checks.words import number


def _about(turn: Turn) -> Iterator[Problem]:
    here = turn.here
    if here.seconds > seconds_of_breath(here.dynamics):
        yield Problem(
            f"{here.name} lasts {number(here.seconds)} s, {breath_words(here.dynamics)}",
            here.spot,
        )


RULE = Rule(
    "breath.too-long",
    Severity.WARNING,
    "A sonority lasts longer than a breath at this dynamic.",
    about=_about,
    passes=(
        Example("mf bell/1 bell/1", "four seconds each"),
        Example("p bell/breve", "eight seconds at p"),
    ),
    fails=(
        Example("f bell/long", "sixteen seconds at f"),
        Example("ff gong/breve", "eight seconds at ff"),
        Example("bell/long", "sixteen seconds are too long at any dynamic"),
    ),
)

"""A tone that matters and is hardly heard at this dynamic."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.checked_score import Turn
from reedchord.checks.example import Example
from reedchord.checks.finding import Severity
from reedchord.checks.played import Played
from reedchord.checks.rule import Problem, Rule
from reedchord.checks.rules.absent_tone import dynamics_where, is_absent
from reedchord.sonority_fields import Presence


def _about(turn: Turn) -> Iterator[Problem]:
    here = turn.here
    # Tones that stand back behind one that is brought out may be faint: their noteheads say so.
    chosen = here.row.wish.tones is not None and here.emphasised is None
    for tone in here.numbers:
        if (tone == here.emphasised or chosen) and here.dynamics and _is_faint(here, tone):
            what = "is to be brought out, but" if tone == here.emphasised else "is wanted, but"
            yield Problem(
                f"{here.sonority.written(tone).printed()} of {here.name} {what} is faint at "
                f"{here.dynamic}",
                here.spot,
                dynamics_where(here, tone, (Presence.DOMINANT, Presence.CLEAR)),
            )


def _is_faint(here: Played, tone: int) -> bool:
    record = here.sonority.tones[tone - 1]
    weak = (Presence.FAINT, Presence.ABSENT)
    if not all(record.presence_at(mark) in weak for mark in here.dynamics):
        return False
    return not is_absent(here, tone)


RULE = Rule(
    "tone.faint",
    Severity.WARNING,
    "A tone that is wanted or brought out is only faint at this dynamic.",
    about=_about,
    swappable=True,
    passes=(
        Example("mf bell/1", "the tone that is brought out is dominant; others may be faint"),
        Example("pp lamp/1", "dominant from pp on"),
    ),
    fails=(
        Example("mf bell/1:bring=3", "faint up to mf"),
        Example("ppp lamp/1", "its emphasised tone hardly speaks at ppp"),
    ),
)

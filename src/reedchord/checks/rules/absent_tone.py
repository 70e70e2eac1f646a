"""A tone that is written and does not sound at this dynamic."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.checked_score import Turn
from reedchord.checks.example import Example
from reedchord.checks.finding import Remedy, Severity
from reedchord.checks.played import Played
from reedchord.checks.rule import Problem, Rule
from reedchord.dynamics import SCALE
from reedchord.sonority_fields import Presence

_HEARD = (Presence.DOMINANT, Presence.CLEAR, Presence.FAINT)


def _about(turn: Turn) -> Iterator[Problem]:
    here = turn.here
    singled_out = here.row.wish.tones is not None
    for tone in here.numbers:
        matters = tone == here.emphasised or singled_out or here.emphasised is None
        if matters and here.dynamics and is_absent(here, tone):
            what = "is to be brought out, but" if tone == here.emphasised else "is written, but"
            yield Problem(
                f"{here.sonority.written(tone).printed()} of {here.name} {what} is absent at "
                f"{here.dynamic}",
                here.spot,
                (
                    *dynamics_where(here, tone, _HEARD),
                    *_another_tone(here),
                ),
            )


def is_absent(here: Played, tone: int) -> bool:
    """Whether a tone is absent at every dynamic that the placement goes through."""
    record = here.sonority.tones[tone - 1]
    return all(record.presence_at(mark) is Presence.ABSENT for mark in here.dynamics)


def _another_tone(here: Played) -> Iterator[Remedy]:
    """Yield the tone that stands out most at this dynamic, to be brought out instead."""
    for wanted in (Presence.DOMINANT, Presence.CLEAR):
        for number, tone in enumerate(here.sonority.tones, start=1):
            if here.dynamic and tone.presence_at(here.dynamic) is wanted:
                name = here.sonority.written(number).printed()
                yield Remedy(f"bring out {name} instead, which is {wanted} at {here.dynamic}")
                return


def dynamics_where(here: Played, tone: int, wanted: tuple[Presence, ...]) -> tuple[Remedy, ...]:
    """Return the dynamics at which a tone is heard so."""
    record = here.sonority.tones[tone - 1]
    marks = [mark for mark in SCALE if record.presence_at(mark) in wanted]
    if not marks:
        return ()
    told = ", ".join(f"{mark} ({record.presence_at(mark)})" for mark in marks)
    return (Remedy(f"another dynamic: {told}"),)


RULE = Rule(
    "tone.absent",
    Severity.ERROR,
    "A tone that is wanted or brought out is absent at this dynamic.",
    about=_about,
    swappable=True,
    passes=(
        Example("f bell/1:bring=3", "its top tone is clear at f"),
        Example("p bell/1", "nobody asked for its top tone by name, and another is brought out"),
        Example("p < bell/1:bring=3 ! f", "it comes with the crescendo"),
    ),
    fails=(
        Example("p bell/1:bring=3", "its top tone, absent at p, is to be brought out"),
        Example("p bell/1:tones=2+3", "the same tone, asked for by name"),
    ),
)

"""A sonority as sound: which tones are heard at a dynamic, how loud, and from when on."""

from __future__ import annotations

from dataclasses import dataclass, field

from reedchord.acoustics.synthesis import SoundedTone
from reedchord.dynamics import Dynamic, parse_dynamic
from reedchord.errors import RequestError, did_you_mean, said_by
from reedchord.pitch import parse_pitch
from reedchord.placement.standing import tones_named
from reedchord.placement.style import Manner
from reedchord.sonority import Sonority
from reedchord.sonority_fields import Presence
from reedchord.sounding.hearing import (
    DEFAULT_MARK,
    SLAP_SECONDS,
    Hearing,
    Reading,
    mark_db,
    timbre,
    tone_db,
)

BUILDING = 2 / 3
"""The part of the time in which tones enter one by one."""


@dataclass(frozen=True)
class Way:
    """How a sonority is to be heard; what is None is as the record says."""

    dynamic: Dynamic | None = None
    emphasised: int | None = None
    manner: Manner = Manner.ORDINARY
    build_up: bool = False
    seconds: float = 4.0
    reading: Reading = field(default_factory=Reading)


@dataclass(frozen=True)
class WayText:
    """A way of hearing as it was typed; what is None was left out."""

    at: str | None = None
    emphasise: str | None = None
    manner: str | None = None
    build_up: bool = False
    seconds: float | None = None


def way_from_text(typed: WayText, sonority: Sonority, reading: Reading) -> Way:
    """Read what was typed; raises InputError or RequestError with what would be right."""
    with said_by("--at"):
        dynamic = parse_dynamic(typed.at) if typed.at else None
    with said_by("--emphasise"):
        emphasised = _emphasised(typed.emphasise, sonority) if typed.emphasise else None
    with said_by("--manner"):
        manner = _manner(typed.manner) if typed.manner else Manner.ORDINARY
    return Way(
        dynamic,
        emphasised,
        manner,
        typed.build_up,
        typed.seconds or Way.seconds,
        reading,
    )


def _emphasised(text: str, sonority: Sonority) -> int:
    number = text.strip()
    return sonority.tone_number(int(number) if number.isdecimal() else parse_pitch(text))


def _manner(text: str) -> Manner:
    plain = " ".join(text.casefold().replace("-", " ").split())
    if plain not in list(Manner):
        raise RequestError(
            "hear.manner", f"{text!r} is no way of playing", hint=did_you_mean(plain, Manner)
        )
    return Manner(plain)


def hear_sonority(sonority: Sonority, way: Way) -> Hearing:
    """Return the tones of a sonority as they are heard, at true cents.

    Raises RequestError where all are absent at the dynamic, and where the record does not
    say how they enter.
    """
    told: list[str] = []
    dynamic = way.dynamic or _usual_dynamic(sonority, way.manner, told)
    levels_db = _levels_db(sonority, dynamic, way.emphasised, told)
    if way.manner is Manner.SLAP and way.build_up:
        raise RequestError(
            "hear.slap-build-up",
            "a slap is over before tones can enter one by one",
            hint="Leave --build-up out, or choose another --manner.",
        )
    seconds = min(way.seconds, SLAP_SECONDS) if way.manner is Manner.SLAP else way.seconds
    onsets = _onsets(sonority, tuple(levels_db), seconds) if way.build_up else {}
    sound = timbre(way.manner, dynamic)
    tones = (
        SoundedTone(
            way.reading.hz(sonority.concert(number)),
            onsets.get(number, 0.0),
            seconds - onsets.get(number, 0.0),
            level_db,
            sound,
        )
        for number, level_db in levels_db.items()
    )
    manner = "" if way.manner is Manner.ORDINARY else f", {way.manner}"
    title = f"{sonority.label()}, {dynamic}{manner}"
    return Hearing(title, tuple(tones), -mark_db(dynamic.level), sonority.saxophone, tuple(told))


def _usual_dynamic(sonority: Sonority, manner: Manner, told: list[str]) -> Dynamic:
    """Return mf, or the possible mark that is nearest; the softest for what is very soft."""
    possible = sonority.possible_dynamics()
    if possible is None:
        chosen = DEFAULT_MARK
    elif manner is Manner.VERY_SOFT:
        chosen = possible.softest
    else:
        chosen = min(possible.marks(), key=lambda mark: abs(mark.level - DEFAULT_MARK.level))
    told.append(f"no dynamic is named: heard at {chosen}")
    return chosen


def _levels_db(
    sonority: Sonority, dynamic: Dynamic, emphasised: int | None, told: list[str]
) -> dict[int, float]:
    """Return the level of each tone that is heard, by its number."""
    stressed = emphasised or sonority.emphasised_number
    possible = sonority.possible_dynamics()
    presence = {n: sonority.tones[n - 1].presence_at(dynamic) for n in sonority.numbers}
    levels_db = {
        number: level_db
        for number in sonority.numbers
        if (level_db := tone_db(sonority, number, dynamic, stressed)) is not None
    }
    if not levels_db:
        hint = f"It speaks at {possible}: --at {possible.loudest}." if possible else None
        raise RequestError(
            "hear.silent", f"at {dynamic} no tone of {sonority.id} sounds: all absent", hint=hint
        )
    if possible is not None and dynamic not in possible:
        told.append(f"the record says that {sonority.id} speaks at {possible}, not at {dynamic}")
    unknown = [number for number, present in presence.items() if present is None]
    if unknown:
        told.append(
            f"nobody has said how prominent {tones_named(unknown)} "
            f"{'is' if len(unknown) == 1 else 'are'} at {dynamic}: heard as clear"
        )
    absent = [n for n, present in presence.items() if present is Presence.ABSENT]
    if absent:
        verb = "is" if len(absent) == 1 else "are"
        told.append(f"{tones_named(absent)} {verb} absent at {dynamic}, and not heard")
    return levels_db


def _onsets(sonority: Sonority, heard: tuple[int, ...], seconds: float) -> dict[int, float]:
    """Return when each tone that is heard enters, evenly, in the order of the record."""
    order = [number for number in sonority.build_up if number in heard]
    if sorted(order) != sorted(heard):
        raise RequestError(
            "hear.build-up",
            f"the record of {sonority.id} does not say in which order its tones enter",
            hint="Write it into the record, as build_up: [2, 1, 3], or leave --build-up out.",
        )
    step_seconds = seconds * BUILDING / max(1, len(order) - 1)
    return {number: place * step_seconds for place, number in enumerate(order)}

"""Read the wishes of a search from text; every mistake is reported with its option."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, fields
from fractions import Fraction
from functools import partial
from typing import Any, TypeVar

from reedchord.choosing.search_wish import DEFAULT_WITHIN_CENTS, Wish
from reedchord.dynamics import parse_dynamic
from reedchord.errors import (
    InputError,
    ReedchordError,
    RequestError,
    Where,
    raise_all,
)
from reedchord.pitch import Pitch, PitchTextError, parse_pitch
from reedchord.rhythm import parse_rate
from reedchord.saxophones import FAMILY, Saxophone, saxophone
from reedchord.sonority_fields import Articulation, Evidence

MAX_INTERVAL_SEMITONES = 120
_T = TypeVar("_T")


@dataclass(frozen=True)
class WishText:
    """The wishes as they are typed, by the names of the options."""

    concert: str | None = None
    written: str | None = None
    emphasised: str | None = None
    pitch_class: bool = False
    interval: str | None = None
    highest: str | None = None
    lowest: str | None = None
    tones: int | None = None
    within: str | None = None
    saxophone: Sequence[str] | None = None
    at: str | None = None
    speed: str | None = None
    articulation: str | None = None
    evidence: str | None = None
    connects_to: str | None = None
    avoid: str | None = None
    avoid_within: str | None = None


def wish_text(options: Mapping[str, Any]) -> WishText:
    """Return the wishes among the options of a command, by their names."""
    return WishText(**{one.name: options[one.name] for one in fields(WishText)})


def wish_from_text(text: WishText) -> Wish:
    """Return the wish; raises every InputError and RequestError about it together."""
    if text.concert is not None and text.written is not None:
        raise RequestError(
            "find.concert-and-written",
            "pitches are wished as concert and as written ones",
            hint="Say --concert or --written, not both.",
        )
    reading = _Reading()
    read, by_class = reading.read, text.pitch_class
    pitch = partial(parse_wished_pitch, pitch_class=by_class)
    pitches = partial(parse_pitches, pitch_class=by_class)
    concert = read("--concert", text.concert, pitches)
    written = read("--written", text.written, pitches)
    named = text.saxophone or ()
    others = [name for name in named if name.strip().casefold() != "any"]
    members = [read("--saxophone", name, parse_saxophone) for name in others]
    within = read("--within", text.within, parse_cents)
    avoid_within = read("--avoid-within", text.avoid_within, parse_cents)
    emphasised = read("--emphasised", text.emphasised, pitch)
    highest = read("--highest", text.highest, pitch)
    lowest = read("--lowest", text.lowest, pitch)
    intervals = read("--interval", text.interval, parse_intervals)
    dynamic = read("--at", text.at, parse_dynamic)
    speed = read("--speed", text.speed, parse_rate)
    articulation = read("--articulation", text.articulation, parse_articulation)
    evidence = read("--evidence", text.evidence, parse_evidence)
    avoid = read("--avoid", text.avoid, parse_pitches)
    raise_all(reading.errors)
    return Wish(
        pitches=concert or written or (),
        written=text.written is not None,
        emphasised=emphasised,
        pitch_class=by_class,
        intervals=intervals or (),
        highest=highest,
        lowest=lowest,
        tone_count=text.tones,
        within_cents=DEFAULT_WITHIN_CENTS if within is None else within,
        saxophones=tuple(filter(None, members)) if len(others) == len(named) else (),
        dynamic=dynamic,
        speed=speed,
        articulation=articulation,
        evidence=evidence,
        connects_to=text.connects_to,
        avoid=avoid or (),
        avoid_within_cents=DEFAULT_WITHIN_CENTS if avoid_within is None else avoid_within,
    )


class _Reading:
    """Reads one option after the other and keeps the mistakes, to report them together."""

    def __init__(self) -> None:
        self.errors: list[ReedchordError] = []

    def read(self, option: str, typed: str | None, parse: Callable[[str], _T]) -> _T | None:
        """Return what was typed, parsed; None where nothing was typed or it is a mistake."""
        if typed is None:
            return None
        try:
            return parse(typed)
        except ReedchordError as error:
            self.errors.append(error.at(Where(field=option)))
            return None


def parse_pitches(text: str, *, pitch_class: bool = False) -> tuple[Pitch, ...]:
    """Read pitches separated by commas or spaces; octaves may be left out for pitch classes.

    Raises InputError that shows the text and marks the column.
    """
    if _is_one_pitch(text):
        return (parse_pitch(text),)
    name = r"[^,;\s][^,;]*" if re.search("[,;]", text) else r"\S+"
    named = list(re.finditer(name, text))
    if not named:
        raise InputError("find.no-pitch", "no pitch is given", hint="Write pitches: F4 A5-20.")
    return tuple(_pitch_in(text, part, pitch_class=pitch_class) for part in named)


def _pitch_in(text: str, part: re.Match[str], *, pitch_class: bool) -> Pitch:
    try:
        return parse_wished_pitch(part[0].rstrip(), pitch_class=pitch_class)
    except PitchTextError as error:
        told = error.within(text, part.start())
        if _is_one_pitch(f"{part[0].rstrip()}4"):
            told.hint = (
                f"Add the octave, as in {part[0].rstrip()}4, or wish for pitch classes "
                "(--pitch-class), in which octaves do not count."
            )
        raise told from None


def _is_one_pitch(text: str) -> bool:
    """Tell whether a text with spaces in it is one pitch: `E flat 4`, `G5 +31`."""
    try:
        return bool(parse_pitch(text))
    except InputError:
        return False


def parse_wished_pitch(text: str, *, pitch_class: bool = False) -> Pitch:
    """Read one pitch; the octave may be left out for a pitch class. Raises InputError."""
    bare = pitch_class and not re.search("[0-9]", text)
    return parse_pitch(f"{text.strip()}4" if bare else text)


def parse_cents(text: str) -> Fraction:
    """Read a number of cents, `50` or `12.5`; raises InputError."""
    if re.fullmatch(r"[0-9]{1,9}(\.[0-9]{1,9})?", text.strip()) is None:
        raise InputError("find.cents", f"{text!r} is no number of cents", hint="Write 50 or 12.5.")
    return Fraction(text.strip())


def parse_saxophone(text: str) -> Saxophone:
    """Read a member of the family; raises InputError that lists them all."""
    try:
        return saxophone(text)
    except InputError as error:
        family = ", ".join(FAMILY)
        raise InputError(error.code, error.message, hint=f"There are: {family}.") from None


def parse_intervals(text: str) -> tuple[Fraction, ...]:
    """Read intervals in semitones, `7 10.5`; raises InputError with the word that is none."""
    return tuple(map(_interval, text.replace(",", " ").split()))


def _interval(word: str) -> Fraction:
    readable = re.fullmatch(r"[0-9]{1,3}(\.[0-9]{1,4})?", word)
    semitones = Fraction(word) if readable else Fraction(0)
    if not 0 < semitones <= MAX_INTERVAL_SEMITONES:
        raise InputError(
            "find.interval",
            f"{word!r} is no interval",
            hint="Count semitones, quarter tones as halves: 7 is a fifth, 10.5 lies between the "
            "sevenths.",
        )
    return semitones


def parse_articulation(text: str) -> Articulation:
    """Read a way of articulating; raises InputError that lists them all."""
    try:
        return Articulation(" ".join(text.casefold().split()))
    except ValueError:
        raise InputError(
            "find.articulation",
            f"{text!r} is no way of articulating",
            hint=f"There are: {', '.join(Articulation)}.",
        ) from None


def parse_evidence(text: str) -> Evidence:
    """Read a kind of evidence; raises InputError that lists them, weakest first."""
    try:
        return Evidence(text.strip().casefold())
    except ValueError:
        raise InputError(
            "find.evidence",
            f"{text!r} is no kind of evidence",
            hint=f"From the weakest: {', '.join(Evidence)}.",
        ) from None

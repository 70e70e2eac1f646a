"""Options of `reedchord place` as a placement and a style, each read by what it stands for."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from enum import StrEnum
from typing import Any

from reedchord.chord_spelling import Grid
from reedchord.dynamics import parse_dynamic_course
from reedchord.errors import (
    InputError,
    ReedchordError,
    RequestError,
    Where,
    did_you_mean,
    raise_all,
)
from reedchord.lasting import parse_lasting, parse_length
from reedchord.placement.plan import MAX_GRACES, Placement
from reedchord.placement.style import Manner, Marking, Shown, Sourced, Style
from reedchord.record_fields import parse_tone_reference
from reedchord.saxophones import saxophone

_ARGUMENT = "sonority"
_OPTIONS = {"lasting": "--for", "emphasised": "--emphasise"}
"""Options that are called otherwise than the field of a plan that they fill."""
_Read = Callable[[Any], Any]


def _text(given: str) -> str:
    return _not_empty(given, "Leave it out, or write something.")


def _needed(given: str) -> str:
    return _not_empty(given, "Write which one is meant.")


def _not_empty(given: str, hint: str) -> str:
    text = given.strip()
    if not text:
        raise InputError("option.empty", "it is empty", hint=hint)
    return text


def _grace(number: int) -> int:
    if not 1 <= number < MAX_GRACES:
        bound = "at least 1" if number < 1 else f"at most {MAX_GRACES - 1}"
        raise InputError("option.grace", f"grace is {bound}, not {number}")
    return number


def _word(kind: type[StrEnum]) -> _Read:
    def read(given: str) -> StrEnum:
        if given not in list(kind):
            hint = did_you_mean(given, kind)
            raise InputError("option.choice", f"it cannot be {given!r}", hint=hint)
        return kind(given)

    return read


def _each(read: _Read) -> _Read:
    return lambda given: tuple(read(entry.strip()) for entry in given.split(","))


_TONES = _each(parse_tone_reference)
_READ: Mapping[str, _Read] = {
    **dict.fromkeys(("sonority", "part", "bar"), _needed),
    **dict.fromkeys(("beat", "voice", "staff"), _text),
    "grace": _grace,
    "lasting": parse_lasting,
    "emphasised": parse_tone_reference,
    "tones": _TONES,
    "order": _TONES,
    "steps": _each(parse_length),
    "tremolo": _text,
    "trill": _text,
    "dynamics": parse_dynamic_course,
    "manner": _word(Manner),
    "saxophone": saxophone,
    "grid": _word(Grid),
    "marking": _word(Marking),
    **dict.fromkeys(("cents", "fingering"), _word(Shown)),
    "source": _word(Sourced),
}
"""How the options that are not yes or no are read, by the fields that they fill."""


def option_placement(options: Mapping[str, Any]) -> Placement:
    """Return the placement that options describe, None for each that was not given.

    Raises RequestError or SeveralErrors that name the options.
    """
    missing = [name for name in ("sonority", "part", "bar") if options[name] is None]
    if missing:
        raise RequestError(
            "place.incomplete",
            f"what is missing: {', '.join(map(typed, missing))}",
            hint="reedchord place SCORE SONORITY --collection FILE --part P --bar N -o OUT",
        )
    return Placement.model_construct(**_read(options))


def option_style(options: Mapping[str, str | None], base: Style) -> Style:
    """Return a style with what options change; raises RequestError or SeveralErrors."""
    return base.model_copy(update=_read(options))


def typed(field: str) -> str:
    """Return what is typed for a field of a plan: `--build-up` for build_up."""
    return field if field == _ARGUMENT else _OPTIONS.get(field, f"--{field.replace('_', '-')}")


def _read(options: Mapping[str, Any]) -> dict[str, Any]:
    errors: list[ReedchordError] = []
    read: dict[str, Any] = {}
    for name, given in options.items():
        if given is None:
            continue
        try:
            read[name] = _READ[name](given) if name in _READ else given
        except ReedchordError as error:
            errors.append(error.at(Where(field=typed(name))))
    raise_all(errors)
    return read

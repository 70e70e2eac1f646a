"""A record as the plain data of its file."""

from __future__ import annotations

from collections.abc import Callable
from enum import StrEnum
from functools import cache
from typing import Any

from reedchord.dynamics import DynamicCourse, DynamicRange
from reedchord.fingering import Fingering
from reedchord.lasting import End, Length
from reedchord.pitch import Pitch
from reedchord.record_fields import Record
from reedchord.rhythm import Rate
from reedchord.saxophones import Saxophone

_TEXT: dict[type, Callable[[Any], str]] = {
    Saxophone: lambda member: member.name,
    **dict.fromkeys((Pitch, Fingering, Rate, DynamicRange, DynamicCourse, Length, End), str),
}


def plain_data(record: Record) -> dict[str, Any]:
    """Return a record's fields as its file has them; those that are as usual are left out.

    The same as pydantic's `model_dump(mode="json", by_alias=True, exclude_defaults=True)`,
    without its serialisers: building them takes longer than placing a sonority.
    """
    given = ((key, getattr(record, name), usual) for name, key, usual in _fields(type(record)))
    return {key: _plain(one) for key, one, usual in given if one is not usual and one != usual}


@cache
def _fields(kind: type[Record]) -> tuple[tuple[str, str, Any], ...]:
    """Return each field's name, its name in files, and what it is as usual."""
    return tuple(
        (name, field.alias or name, field.get_default(call_default_factory=True))
        for name, field in kind.model_fields.items()
    )


def _plain(given: Any) -> Any:
    as_text = _TEXT.get(type(given))
    if as_text is not None:
        return as_text(given)
    if isinstance(given, StrEnum):
        return str(given)
    if isinstance(given, Record):
        return plain_data(given)
    if isinstance(given, dict):
        return {str(key): _plain(one) for key, one in given.items()}
    if type(given) in (tuple, list):  # a named tuple is a value of its own, with its own text
        return [_plain(one) for one in given]
    assert given is None or isinstance(given, str | int | float)  # records hold nothing else
    return given

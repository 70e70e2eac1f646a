"""Pydantic's complaints as our errors, each with its file, line, record and field."""

from __future__ import annotations

import json
import re
from typing import Any, TypeVar, get_args

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from reedchord.data_text import DataText, Path, field_text
from reedchord.errors import InputError, ReedchordError, Where, did_you_mean

M = TypeVar("M", bound=BaseModel)

_IN_QUOTES = "A text that looks like a number, or like true or null, stands in quotes."
_SENTENCES: dict[str, tuple[str, str | None]] = {
    "string_type": ("{field} is text, not {given}", _IN_QUOTES),
    "string_too_short": ("{field} is empty", "Leave the field out, or write something."),
    "string_too_long": ("{field} is longer than {max_length} characters", None),
    "string_unicode": ("{field} holds half a character", "Write the text anew."),
    "int_type": ("{field} is a whole number, not {given}", None),
    "float_type": ("{field} is a number, not {given}", None),
    "bool_type": ("{field} is true or false, not {given}", None),
    "tuple_type": ("{field} is a list, not {given}", "Put '- ' before each entry, or use [ ]."),
    "model_type": ("{field} has fields of its own, it is not {given}", None),
    "dict_type": ("{field} is a list of pairs such as mf: clear, not {given}", None),
    "too_short": ("{field} has fewer entries than {min_length}", None),
    "too_long": ("{field} has more entries than {max_length}", None),
    "greater_than_equal": ("{field} is at least {ge}, not {given}", None),
    "less_than_equal": ("{field} is at most {le}, not {given}", None),
    "literal_error": ("{field} cannot be {given}", "{near}"),
    "enum": ("{field} cannot be {given}", "{near}"),
}
"""Pydantic's error types, each with what is wrong and what would be right."""


def validated(
    model: type[M], document: DataText, path: Path, file: str, errors: list[ReedchordError]
) -> M | None:
    """Return the record that stands at `path`, or None with every complaint in `errors`."""
    try:
        return model.model_validate(part_at(document.data, path))
    except ValidationError as error:
        details = _without_echoes(error.errors())
        errors += [_as_input_error(detail, model, document, path, file) for detail in details]
        return None


def part_at(data: Any, path: Path) -> Any:
    """Return the part of plain data that keys and indexes lead to."""
    for key in path:
        data = data[key]
    return data


def _without_echoes(details: list[ErrorDetails]) -> list[ErrorDetails]:
    """Leave out that a list is too short when only its broken entries make it so."""
    places = [detail["loc"] for detail in details]
    return [
        detail
        for detail in details
        if detail["type"] != "too_short"
        or not any(place[:-1][: len(detail["loc"])] == detail["loc"] for place in places)
    ]


def _as_input_error(
    detail: ErrorDetails, model: type[BaseModel], document: DataText, path: Path, file: str
) -> InputError:
    inner = tuple(key for key in detail["loc"] if key != "[key]")
    record = part_at(document.data, path)
    name = record.get("id") if isinstance(record, dict) else None
    where = Where(
        record=name if isinstance(name, str) else None, field=field_text(inner) or None
    ).within(document.where((*path, *inner), file))
    message, hint = _sentence(detail, inner, model)
    return InputError(detail["type"], message, hint=hint, where=where)


def _sentence(detail: ErrorDetails, inner: Path, model: type[BaseModel]) -> tuple[str, str | None]:
    """Return what is wrong and what would be right, in words for people."""
    kind, context = detail["type"], detail.get("ctx", {})
    if kind == "extra_forbidden":
        stray = str(inner[-1])
        return f"there is no field {stray!r}", did_you_mean(stray, _fields_around(model, inner))
    if kind == "missing":
        return f"the field {inner[-1]!r} is missing", None
    if "message" in context:
        return context["message"], context["hint"]
    field, given = _field_words(inner), detail["input"]
    if given is None:
        return f"{field} is empty", "Fill it in; a field that is not needed can be left out."
    if kind not in _SENTENCES:
        return f"{field}: {detail['msg']}", None
    message, hint = _SENTENCES[kind]
    if kind == "model_type" and isinstance(given, str):
        first = next(iter(_fields_around(model, (*inner, ""))))
        hint = f"Name the field: {{{{{first}: {{given}}}}}}."
    expected = re.findall(r"'([^']*)'|(\d+)", str(context.get("expected")))
    near = did_you_mean(str(given), [text or number for text, number in expected])
    words = {"field": field, "given": _shown(given), "near": near, **context}
    return message.format(**words), hint.format(**words) if hint else None


def _field_words(inner: Path) -> str:
    """Return the field as the subject of a sentence."""
    names = [key for key in inner if isinstance(key, str)]
    if not names:
        return "the record"
    last = inner[-1]
    return f"entry {last + 1} of {names[-1]}" if isinstance(last, int) else str(last)


def _shown(given: Any) -> str:
    """Return what was given as the file shows it, shortened."""
    text = json.dumps(given, ensure_ascii=False, default=str)
    return text if len(text) <= 60 else text[:57] + "…"


def _fields_around(model: type[BaseModel], inner: Path) -> dict[str, FieldInfo]:
    """Return the fields, by the names that files use, of the record that holds a field."""
    fields = _fields_by_name(model)
    for key in inner[:-1]:
        if isinstance(key, str) and key in fields:
            part = _model_within(fields[key].annotation)
            fields = _fields_by_name(part) if part else {}
    return fields


def _fields_by_name(model: type[BaseModel]) -> dict[str, FieldInfo]:
    return {field.alias or name: field for name, field in model.model_fields.items()}


def _model_within(annotation: Any) -> type[BaseModel] | None:
    """Return the record type inside a type such as `tuple[Tone, ...]` or `Citation | None`."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    parts = (_model_within(part) for part in get_args(annotation))
    return next((part for part in parts if part), None)

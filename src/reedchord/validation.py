"""Pydantic's complaints as our errors, each with its file, line, record and field."""

from __future__ import annotations

from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from reedchord.errors import InputError, ReedchordError, did_you_mean
from reedchord.yaml_text import DataText, Path

M = TypeVar("M", bound=BaseModel)


def validated(
    model: type[M], document: DataText, path: Path, file: str, errors: list[ReedchordError]
) -> M | None:
    """Return the record that stands at `path`, or None with every complaint in `errors`."""
    given = part_at(document.data, path)
    try:
        return model.model_validate(given)
    except ValidationError as error:
        errors += [
            _as_input_error(detail, model, document, path, file) for detail in error.errors()
        ]
        return None


def part_at(data: Any, path: Path) -> Any:
    """Return the part of plain data that keys and indexes lead to."""
    for key in path:
        data = data[key]
    return data


def _as_input_error(
    detail: ErrorDetails, model: type[BaseModel], document: DataText, path: Path, file: str
) -> InputError:
    inner = detail["loc"]
    record = part_at(document.data, path)
    name = record.get("id") if isinstance(record, dict) else None
    where = document.where((*path, *inner), file)
    field = _field_text(inner)
    message, hint = _sentence(detail, model)
    error = InputError(detail["type"], message, hint=hint)
    return error.at(
        type(where)(
            path=where.path,
            line=where.line,
            column=where.column,
            record=name if isinstance(name, str) else None,
            field=field or None,
        )
    )


def _field_text(loc: tuple[str | int, ...]) -> str:
    text = ""
    for key in loc:
        text += f"[{key + 1}]" if isinstance(key, int) else f".{key}"
    return text.lstrip(".")


def _sentence(detail: ErrorDetails, model: type[BaseModel]) -> tuple[str, str | None]:
    kind = detail["type"]
    last = str(detail["loc"][-1]) if detail["loc"] else ""
    if kind == "extra_forbidden":
        return f"there is no field {last!r}", _known_fields(detail, model, last)
    if kind == "missing":
        return f"the field {last!r} is missing", None
    message, _, hint = detail["msg"].partition("\n  ")
    if kind not in _OURS_KEEP_THEIR_WORDS and "." not in kind:
        message = f"{message[:1].lower()}{message[1:]}, not {_shown(detail['input'])}"
    return message, hint or None


_OURS_KEEP_THEIR_WORDS = {"value_error", "assertion_error"}


def _shown(given: Any) -> str:
    text = repr(given)
    return text if len(text) <= 60 else text[:57] + "…"


def _known_fields(detail: ErrorDetails, model: type[BaseModel], last: str) -> str | None:
    """Name the fields that the record has, where the stray one stands at its top."""
    if len(detail["loc"]) > 1:
        return None
    names = [field.alias or name for name, field in model.model_fields.items()]
    return did_you_mean(last, names)

"""One file of ours with one record in it: read whole, with the line of every mistake."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path
from typing import Generic, TypeVar, get_args

from reedchord.data_text import DataText
from reedchord.errors import InputError, ReedchordError, raise_all
from reedchord.input_files import read_text
from reedchord.record_fields import Record
from reedchord.validation import validated

R = TypeVar("R", bound=Record)
ENDINGS = (".yaml", ".yml", ".json")


@dataclass(frozen=True)
class OwnFile(Generic[R]):
    """A file that was read: its text, its plain data with places, and its record."""

    path: str
    text: str
    fields: DataText
    record: R


def read_own_file(model: type[R], path: str | os.PathLike[str], noun: str) -> OwnFile[R]:
    """Read a YAML or JSON file of ours; `noun` says what it is, as in `a set-up`.

    Raises InputError or SeveralErrors with file, line, column and field; a file that is not
    there is told with near names.
    """
    return parse_own_text(model, read_text(Path(path), ENDINGS), str(path), noun)


def parse_own_text(model: type[R], text: str, name: str, noun: str) -> OwnFile[R]:
    """Read a file of ours from text; `name` stands in messages, and .json at its end counts."""
    from reedchord.yaml_text import read_data_text

    document = read_data_text(text, name)
    (kind,) = get_args(model.model_fields["reedchord"].annotation)
    if not isinstance(document.data, dict) or document.data.get("reedchord") != kind:
        raise InputError(
            f"{kind}.format",
            f"this is not {noun}",
            hint=f"It starts with the lines 'reedchord: {kind}' and 'version: 1'.",
            where=document.where(("reedchord",), name),
        )
    return OwnFile(name, text, document, own_record(model, document, name))


def own_record(model: type[R], document: DataText, name: str = "") -> R:
    """Return the record that plain data holds; raises InputError or SeveralErrors."""
    errors: list[ReedchordError] = []
    record = validated(model, document, (), name, errors)
    raise_all(errors)
    assert record is not None  # or there would have been errors
    return record

"""The format of a mapping: what the columns of a spreadsheet hold, and what holds for all rows."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

from pydantic import BeforeValidator, Field, WithJsonSchema

from reedchord.errors import InputError, ReedchordError, Where, raise_all
from reedchord.exchange.columns import Column, named_column
from reedchord.own_file import OwnFile, parse_own_text, read_own_file
from reedchord.record_fields import Record
from reedchord.source import Text

NOUN = "a mapping"

Setting = Annotated[
    Text,
    # `page: 12` is a number to YAML, and the text of a cell here.
    BeforeValidator(lambda given: str(given) if type(given) in (int, float) else given),
    WithJsonSchema({"type": ["string", "number"], "minLength": 1, "maxLength": 2000}),
]


class MappingFile(Record):
    """How a spreadsheet becomes a collection."""

    reedchord: Literal["mapping"]
    """Says what the file is."""
    version: Literal[1]
    """Version of this format."""
    columns: dict[str, Text] = Field(default_factory=dict)
    """Field by heading: `{Griff: fingering, Ton 1: tone 1 written, Farbe: ignore}`."""
    constants: dict[str, Setting] = Field(default_factory=dict)
    """What holds for every row that says nothing else: `{saxophone: alto, source id: log}`."""
    separator: Text | None = None
    """What stands between several tones in one cell, where it is not a comma or a space."""


def read_mapping(path: Path) -> MappingFile:
    """Read a file that holds a mapping; raises InputError or SeveralErrors."""
    return _checked(read_own_file(MappingFile, path, NOUN))


def parse_mapping(text: str, name: str) -> MappingFile:
    """Read a mapping; raises InputError or SeveralErrors with line and column."""
    return _checked(parse_own_text(MappingFile, text, name, NOUN))


def _checked(file: OwnFile[MappingFile]) -> MappingFile:
    mapping, errors = file.record, list[ReedchordError]()
    for part, given in (
        ("columns", mapping.columns.items()),
        ("constants", zip(mapping.constants, mapping.constants, strict=True)),
    ):
        for key, heading in given:
            _check_named(heading, file.fields.where((part, key), file.path), errors)
    raise_all(errors)
    return mapping


def _check_named(heading: str, where: Where, errors: list[ReedchordError]) -> None:
    try:
        named_column(heading)
    except InputError as error:
        errors.append(error.at(where))


def constants_of(settings: dict[str, str]) -> dict[Column, str]:
    """Return what holds for all rows, by column; raises InputError for an unknown field."""
    return {named_column(heading): text for heading, text in settings.items()}

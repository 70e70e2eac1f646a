"""The format of a mapping: what the columns of a spreadsheet hold, and what holds for all rows."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

from pydantic import BeforeValidator, Field, WithJsonSchema

from reedchord.data_text import DataText
from reedchord.errors import InputError, ReedchordError, Where, raise_all
from reedchord.exchange.columns import Column, named_column
from reedchord.record_fields import Record
from reedchord.score_files import read_bytes
from reedchord.source import Text
from reedchord.validation import validated
from reedchord.yaml_text import read_data_text

FORMAT = "mapping"
VERSION = 1

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
    try:
        text = read_bytes(path).decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise InputError(
            "mapping.encoding",
            f"the text is not UTF-8 (byte {error.start})",
            hint="Save the file as UTF-8.",
            where=Where(path=str(path)),
        ) from None
    return parse_mapping(text, str(path))


def parse_mapping(text: str, name: str) -> MappingFile:
    """Read a mapping; raises InputError or SeveralErrors with line and column."""
    document = read_data_text(text, name)
    errors: list[ReedchordError] = []
    _check_head(document, name)
    mapping = validated(MappingFile, document, (), name, errors)
    if mapping is not None:
        for part, given in (
            ("columns", mapping.columns.items()),
            ("constants", zip(mapping.constants, mapping.constants, strict=True)),
        ):
            for key, heading in given:
                _check_named(heading, document.where((part, key), name), errors)
    raise_all(errors)
    assert mapping is not None  # or there were errors
    return mapping


def _check_head(document: DataText, name: str) -> None:
    data = document.data
    if not isinstance(data, dict) or data.get("reedchord") != FORMAT:
        raise InputError(
            "mapping.format",
            "this is no mapping",
            hint=f"A mapping starts with the lines 'reedchord: {FORMAT}' and 'version: {VERSION}'.",
            where=document.where(("reedchord",), name),
        )


def _check_named(heading: str, where: Where, errors: list[ReedchordError]) -> None:
    try:
        named_column(heading)
    except InputError as error:
        errors.append(error.at(where))


def constants_of(settings: dict[str, str]) -> dict[Column, str]:
    """Return what holds for all rows, by column; raises InputError for an unknown field."""
    return {named_column(heading): text for heading, text in settings.items()}

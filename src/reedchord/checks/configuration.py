"""The file `reedchord.toml`: what a folder of scores is checked by."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from reedchord.checks.finding import Severity
from reedchord.errors import InputError, Where, did_you_mean
from reedchord.input_files import read_text
from reedchord.note_lengths import parse_tempo

NAME = "reedchord.toml"
_LINE = re.compile(r"\(at line (\d+), column (\d+)\)")


class CheckTable(BaseModel):
    """The table `[check]` of the file."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)

    select: list[str] | None = None
    """Codes of rules, or their subjects, to check by; all where it is left out."""
    ignore: list[str] = Field(default_factory=list)
    """Codes of rules, or their subjects, to leave out."""
    fail_on: str | None = Field(default=None, alias="fail-on")
    """Least severity that makes the exit status 1: error, warning or note."""
    collection: str | None = None
    """File or folder of sonorities, from where this file stands."""
    tempo: str | None = None
    """Tempo where none is marked: `quarter = 72`."""
    for_performance: bool = Field(default=False, alias="for-performance")
    """Whether the scores are meant for performance."""


@dataclass(frozen=True)
class Configuration:
    """What a configuration file says; `folder` is where its paths begin."""

    table: CheckTable
    folder: Path

    @property
    def collection(self) -> Path | None:
        """The collection that it names."""
        return self.folder / self.table.collection if self.table.collection else None


def found_upwards(score: Path) -> Path | None:
    """Return the nearest configuration file in the folder of a score or above it."""
    folder = Path.cwd() if str(score) == "-" else score.absolute().parent
    for place in (folder, *folder.parents):
        if (place / NAME).is_file():
            return place / NAME
    return None


def read_configuration(path: Path) -> Configuration:
    """Read a configuration file; raises InputError with the line, or the field, that is wrong."""
    try:
        data = tomllib.loads(read_text(path))
    except tomllib.TOMLDecodeError as error:
        at = _LINE.search(str(error))
        where = Where(str(path), int(at[1]), int(at[2])) if at else Where(str(path))
        message = f"is no TOML: {_LINE.sub('', str(error)).strip()}"
        raise InputError("configuration.toml", message, where=where) from None
    return Configuration(_table(data, path), path.parent)


def _table(data: dict[str, Any], path: Path) -> CheckTable:
    others = [name for name in data if name != "check"]
    if others:
        raise _unknown(others[0], ["check"], path)
    try:
        return CheckTable.model_validate(data.get("check", {}))
    except ValidationError as error:
        first = error.errors()[0]
        field = ".".join(map(str, first["loc"]))
        if first["type"] == "extra_forbidden":
            names = [f.alias or name for name, f in CheckTable.model_fields.items()]
            raise _unknown(field, names, path) from None
        raise InputError(
            "configuration.field", first["msg"], where=Where(str(path), field=field)
        ) from None


def _unknown(name: str, known: list[str], path: Path) -> InputError:
    return InputError(
        "configuration.unknown",
        f"{name!r} is nothing that can be set",
        hint=did_you_mean(name, known),
        where=Where(str(path)),
    )


def quarters_per_minute(text: str) -> Fraction:
    """Read `quarter = 72`, or a number of quarters a minute; raises InputError."""
    tempo = parse_tempo(text)
    return tempo.beats_per_minute * tempo.beat.quarters


def parse_severity(text: str) -> Severity:
    """Read a severity; raises InputError that lists them."""
    try:
        return Severity(text.strip().casefold())
    except ValueError:
        raise InputError(
            "check.severity", f"{text!r} is no severity", hint=f"There are: {', '.join(Severity)}."
        ) from None

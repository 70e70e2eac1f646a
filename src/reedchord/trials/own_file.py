"""One file of ours with one record in it: read whole, with the line of every mistake."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path
from typing import Generic, TypeVar, get_args

from reedchord.data_text import DataText
from reedchord.errors import InputError, ReedchordError, Where, did_you_mean, raise_all
from reedchord.record_fields import Record
from reedchord.validation import validated
from reedchord.yaml_text import read_data_text

R = TypeVar("R", bound=Record)
_SUFFIXES = (".yaml", ".yml", ".json")


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
    return parse_own_text(model, file_text(Path(path), noun), str(path), noun)


def parse_own_text(model: type[R], text: str, name: str, noun: str) -> OwnFile[R]:
    """Read a file of ours from text; `name` stands in messages, and .json at its end counts."""
    document = read_data_text(text, name)
    (kind,) = get_args(model.model_fields["reedchord"].annotation)
    if not isinstance(document.data, dict) or document.data.get("reedchord") != kind:
        raise InputError(
            f"{kind}.format",
            f"this is not {noun}",
            hint=f"It starts with the lines 'reedchord: {kind}' and 'version: 1'.",
            where=document.where(("reedchord",), name),
        )
    errors: list[ReedchordError] = []
    record = validated(model, document, (), name, errors)
    raise_all(errors)
    assert record is not None  # or there would have been errors
    return OwnFile(name, text, document, record)


def file_text(file: Path, noun: str) -> str:
    """Return the text of a file as it stands; raises InputError with near names."""
    place = Where(path=str(file))
    try:
        return file.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError:
        raise InputError("file.encoding", "the file is not UTF-8 text", where=place) from None
    except FileNotFoundError:
        raise InputError(
            "file.missing",
            f"{noun} is wanted, and there is no such file",
            hint=_near_files(file),
            where=place,
        ) from None
    except OSError as error:
        message = f"cannot be read: {error.strerror}"
        raise InputError("file.unreadable", message, where=place) from None


def _near_files(file: Path) -> str | None:
    if not file.parent.is_dir():
        return None
    beside = [one.name for one in file.parent.iterdir() if one.suffix.casefold() in _SUFFIXES]
    return did_you_mean(file.name, sorted(beside)) if beside else None

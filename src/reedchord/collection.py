"""A collection of sonorities: a file or a folder of YAML or JSON, read whole or not at all."""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, TypeVar

from reedchord.errors import (
    InputError,
    ReedchordError,
    RequestError,
    Where,
    did_you_mean,
    raise_all,
)
from reedchord.sonority import Sonority
from reedchord.sonority_rules import warnings
from reedchord.source import Source
from reedchord.validation import validated
from reedchord.yaml_text import DataText, read_data_text

FORMAT = "collection"
VERSION = 1
SUFFIXES = (".yaml", ".yml", ".json")
R = TypeVar("R", Source, Sonority)

_TOP_FIELDS = ("reedchord", "version", "title", "note", "sources", "sonorities")


@dataclass(frozen=True)
class Collection:
    """Sonorities and sources by id, in the order in which the files give them."""

    sonorities: dict[str, Sonority]
    sources: dict[str, Source]
    origin: str
    warnings: tuple[str, ...] = ()

    def __getitem__(self, sonority_id: str) -> Sonority:
        """Return the sonority with this id; raises RequestError with near names."""
        try:
            return self.sonorities[sonority_id]
        except KeyError:
            raise RequestError(
                "collection.no-such-sonority",
                f"there is no sonority {sonority_id!r} in {self.origin}",
                hint=did_you_mean(sonority_id, self.sonorities),
            ) from None

    def __iter__(self) -> Iterator[Sonority]:
        return iter(self.sonorities.values())

    def __len__(self) -> int:
        return len(self.sonorities)


@dataclass
class _Found:
    """What has been read so far, with the place where each id was first seen."""

    sonorities: dict[str, Sonority] = field(default_factory=dict)
    sources: dict[str, Source] = field(default_factory=dict)
    first_seen: dict[tuple[str, str], Where] = field(default_factory=dict)
    places: dict[str, Where] = field(default_factory=dict)
    errors: list[ReedchordError] = field(default_factory=list)


def read_collection(path: str | os.PathLike[str]) -> Collection:
    """Read a file, or all .yaml, .yml and .json files of a folder.

    Raises InputError, or SeveralErrors with every mistake of every file: each names file,
    line, record and field.
    """
    found = _Found()
    for file in _files(Path(path)):
        text = _read_text(file)
        _read_file(read_data_text(text, str(file)), str(file), found)
    return _finished(found, str(path))


def parse_collection(text: str, name: str = "collection.yaml") -> Collection:
    """Read a collection from text; `name` stands in messages, and .json at its end counts."""
    found = _Found()
    _read_file(read_data_text(text, name), name, found)
    return _finished(found, name)


def _files(path: Path) -> list[Path]:
    if path.is_file():
        return [path]
    if not path.is_dir():
        raise InputError(
            "collection.no-file",
            "there is no such file or folder",
            hint=_near_files(path),
            where=Where(path=str(path)),
        )
    files = sorted(file for file in path.iterdir() if file.suffix.casefold() in SUFFIXES)
    if not files:
        raise InputError(
            "collection.empty-folder",
            "the folder holds no collection",
            hint=f"Collections end in {', '.join(SUFFIXES)}.",
            where=Where(path=str(path)),
        )
    return files


def _near_files(path: Path) -> str | None:
    if not path.parent.is_dir():
        return None
    beside = [file.name for file in path.parent.iterdir() if file.suffix.casefold() in SUFFIXES]
    return did_you_mean(path.name, sorted(beside)) if beside else None


def _read_text(file: Path) -> str:
    try:
        return file.read_text("utf-8-sig")
    except UnicodeDecodeError as error:
        raise InputError(
            "collection.encoding",
            f"the text is not UTF-8 (byte {error.start})",
            hint="Save the file as UTF-8.",
            where=Where(path=str(file)),
        ) from None
    except OSError as error:
        raise InputError(
            "collection.unreadable",
            f"cannot be read: {error.strerror}",
            where=Where(path=str(file)),
        ) from None


def _read_file(document: DataText, file: str, found: _Found) -> None:
    if not _has_good_head(document, file, found.errors):
        return
    for source, where in _records(Source, document, "sources", file, found.errors):
        if _is_new("source", source.id, where, found):
            found.sources[source.id] = source
    for sonority, where in _records(Sonority, document, "sonorities", file, found.errors):
        if _is_new("sonority", sonority.id, where, found):
            found.sonorities[sonority.id] = sonority
            found.places[sonority.id] = where


def _has_good_head(document: DataText, file: str, errors: list[ReedchordError]) -> bool:
    data = document.data
    top = Where(path=file, line=1)
    if not isinstance(data, dict) or data.get("reedchord") != FORMAT:
        errors.append(
            InputError(
                "collection.format",
                "this is no collection",
                hint=f"A collection starts with the lines 'reedchord: {FORMAT}' and "
                f"'version: {VERSION}'.",
                where=top,
            )
        )
        return False
    if data.get("version") != VERSION:
        errors.append(
            InputError(
                "collection.version",
                f"version {data.get('version')!r} cannot be read",
                hint=f"This program reads version {VERSION}.",
                where=document.where(("version",), file),
            )
        )
        return False
    for name in data:
        if name not in _TOP_FIELDS:
            errors.append(
                InputError(
                    "collection.field",
                    f"a collection has no field {name!r}",
                    hint=did_you_mean(name, _TOP_FIELDS),
                    where=document.where((name,), file),
                )
            )
    return True


def _records(
    model: type[R], document: DataText, name: str, file: str, errors: list[ReedchordError]
) -> Iterator[tuple[R, Where]]:
    rows: Any = document.data.get(name) or []
    if not isinstance(rows, list):
        errors.append(
            InputError(
                "collection.list",
                f"{name} is a list: each record starts with '- id:'",
                where=document.where((name,), file),
            )
        )
        return
    for index in range(len(rows)):
        record = validated(model, document, (name, index), file, errors)
        if record is not None:
            yield record, document.where((name, index), file)


def _is_new(kind: str, record_id: str, where: Where, found: _Found) -> bool:
    first = found.first_seen.setdefault((kind, record_id), where)
    if first is where:
        return True
    found.errors.append(
        InputError(
            "collection.twice",
            f"the {kind} {record_id!r} exists already ({first})",
            hint="Give each record an id of its own.",
            where=where,
        )
    )
    return False


def _finished(found: _Found, origin: str) -> Collection:
    complete = {name: _with_source(sonority, found) for name, sonority in found.sonorities.items()}
    raise_all(found.errors)
    said = [
        f"{found.places[name]}, {name}: {sentence}"
        for name, sonority in complete.items()
        for sentence in (*warnings(sonority), *_unknown_neighbours(sonority, complete))
    ]
    return Collection(complete, found.sources, origin, tuple(said))


def _with_source(sonority: Sonority, found: _Found) -> Sonority:
    """Complete the citation with its source; note an error where there is none."""
    citation = sonority.source
    if citation is None or citation.entry is not None:
        return sonority
    entry = found.sources.get(citation.id)
    if entry is None:
        found.errors.append(
            InputError(
                "source.unknown",
                f"the source {citation.id!r} is not in the list of sources",
                hint=did_you_mean(citation.id, found.sources),
                where=Where(record=sonority.id, field="source.id").within(
                    found.places[sonority.id]
                ),
            )
        )
        return sonority
    return sonority.model_copy(update={"source": citation.model_copy(update={"entry": entry})})


def _unknown_neighbours(sonority: Sonority, known: dict[str, Sonority]) -> Iterator[str]:
    for neighbour in sonority.neighbours:
        if neighbour.sonority not in known:
            yield f"its neighbour {neighbour.sonority!r} is not in this collection"

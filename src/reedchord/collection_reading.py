"""Collections read from files: YAML or JSON, one file or a folder, whole or not at all."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, NamedTuple, TypeVar

from reedchord.collection import Collection, collection_files
from reedchord.collection_file import FORMAT, VERSION, CollectionFile
from reedchord.data_text import DataText
from reedchord.errors import (
    InputError,
    ReedchordError,
    Where,
    did_you_mean,
    near_names,
    raise_all,
)
from reedchord.input_files import read_text
from reedchord.many_objects import many_objects
from reedchord.sonority import Sonority
from reedchord.sonority_rules import warnings
from reedchord.source import Source
from reedchord.validation import validated

MOST_GUESSES = 20
R = TypeVar("R", Source, Sonority)


class _Place(NamedTuple):
    """Where a record stands, so that its fields can be found again."""

    document: DataText
    path: tuple[str | int, ...]
    file: str

    def where(self, *inner: str | int) -> Where:
        return self.document.where((*self.path, *inner), self.file)


@dataclass
class _Found:
    """What has been read so far, with the place where each id was first seen."""

    sonorities: dict[str, Sonority] = field(default_factory=dict)
    sources: dict[str, Source] = field(default_factory=dict)
    places: dict[tuple[str, str], _Place] = field(default_factory=dict)
    errors: list[ReedchordError] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    unreadable_sources: set[str | None] = field(default_factory=set)
    """Ids of the sources that hold mistakes, None for one whose id is not known."""


Reader = Callable[[str, str], DataText]
"""Reads a text; the name of its file stands in messages."""


@many_objects()
def read_collection(path: str | os.PathLike[str], read: Reader | None = None) -> Collection:
    """Read a file, or all .yaml, .yml and .json files of a folder.

    `read` reads their texts otherwise than `read_data_text` does. Raises InputError, or
    SeveralErrors with every mistake of every file: each names file, line, record and field.
    Files of a folder that hold something else of ours, such as a plan, are passed over with a
    warning.
    """
    if read is None:
        from reedchord.yaml_text import read_data_text

        read = read_data_text

    found = _Found()
    whole = Path(path)
    for file in collection_files(whole):
        try:
            document = read(read_text(file), str(file))
        except ReedchordError as error:
            found.errors.append(error)
            found.unreadable_sources.add(None)
            continue
        other = _other_format(document)
        if other and whole.is_dir():
            found.notes.append(f"{file}: passed over, it says 'reedchord: {other}'")
        else:
            _read_file(document, str(file), found)
    return _finished(found, str(path))


@many_objects()
def parse_collection(text: str, name: str = "collection.yaml") -> Collection:
    """Read a collection from text; `name` stands in messages, and .json at its end counts."""
    from reedchord.yaml_text import read_data_text

    found = _Found()
    _read_file(read_data_text(text, name), name, found)
    return _finished(found, name)


def _other_format(document: DataText) -> str | None:
    """Return what the file says it is, where that is not a collection."""
    kind = document.data.get("reedchord") if isinstance(document.data, dict) else None
    return kind if isinstance(kind, str) and kind != FORMAT else None


def _read_file(document: DataText, file: str, found: _Found) -> None:
    if not _has_good_head(document, file, found.errors):
        found.unreadable_sources.add(None)
        return
    for source, place in _records(Source, document, "sources", file, found):
        if _is_new("source", source.id, place, found):
            found.sources[source.id] = source
    for sonority, place in _records(Sonority, document, "sonorities", file, found):
        if _is_new("sonority", sonority.id, place, found):
            found.sonorities[sonority.id] = sonority


def _has_good_head(document: DataText, file: str, errors: list[ReedchordError]) -> bool:
    """Check everything but the records; note errors, and tell whether reading can go on."""
    data = document.data
    if not isinstance(data, dict) or data.get("reedchord") != FORMAT:
        errors.append(
            InputError(
                "collection.format",
                "this is no collection",
                hint=f"A collection starts with the lines 'reedchord: {FORMAT}' and "
                f"'version: {VERSION}'.",
                where=document.where(("reedchord",), file),
            )
        )
        return False
    version = data.get("version")
    if type(version) is not int or version != VERSION:
        told = f"version {version!r} cannot be read" if version else "the version is missing"
        errors.append(
            InputError(
                "collection.version",
                told,
                hint=f"This program reads collections with 'version: {VERSION}'.",
                where=document.where(("version",), file),
            )
        )
        return False
    head = {name: [] if isinstance(part, list) else part for name, part in data.items()}
    validated(CollectionFile, document._replace(data=head), (), file, errors)
    return True


def _records(
    model: type[R], document: DataText, name: str, file: str, found: _Found
) -> Iterator[tuple[R, _Place]]:
    rows: Any = document.data.get(name, [])
    if not isinstance(rows, list):
        found.unreadable_sources.add(None)
        return
    for index, row in enumerate(rows):
        record = validated(model, document, (name, index), file, found.errors)
        if record is not None:
            yield record, _Place(document, (name, index), file)
        elif model is Source:
            found.unreadable_sources.add(_id_of(row))


def _id_of(row: Any) -> str | None:
    given = row.get("id") if isinstance(row, dict) else None
    return given if isinstance(given, str) else None


def _is_new(kind: str, record_id: str, place: _Place, found: _Found) -> bool:
    first = found.places.setdefault((kind, record_id), place)
    if first is place:
        return True
    found.errors.append(
        InputError(
            "collection.twice",
            f"the {kind} {record_id!r} exists already ({first.where('id')})",
            hint="Give each record an id of its own.",
            where=place.where("id")._replace(record=record_id, field="id"),
        )
    )
    return False


def _finished(found: _Found, origin: str) -> Collection:
    complete = {name: _with_source(sonority, found) for name, sonority in found.sonorities.items()}
    raise_all(sorted(found.errors, key=_reading_order))
    guesses = _guesses(complete)
    said = [
        f"{found.places['sonority', name].where()}, {name}: {sentence}"
        for name, sonority in complete.items()
        for sentence in (*warnings(sonority), *_unknown_neighbours(sonority, guesses))
    ]
    if not complete:
        said.append(f"{origin}: there is no sonority in it")
    return Collection(complete, found.sources, origin, (*found.notes, *said))


def _reading_order(error: ReedchordError) -> tuple[str, int, int]:
    return error.where.path or "", error.where.line or 0, error.where.column or 0


def _with_source(sonority: Sonority, found: _Found) -> Sonority:
    """Complete the citation with its source; note an error where there is none."""
    citation = sonority.source
    if citation is None or citation.entry is not None:
        return sonority
    entry = found.sources.get(citation.id)
    if entry is not None:
        completed = citation.model_copy(update={"entry": entry})
        return sonority.model_copy(update={"source": completed})
    if not found.unreadable_sources & {citation.id, None}:
        place = found.places["sonority", sonority.id]
        found.errors.append(
            InputError(
                "source.unknown",
                f"the source {citation.id!r} is not in the list of sources",
                hint=did_you_mean(citation.id, found.sources),
                where=place.where("source", "id")._replace(record=sonority.id, field="source.id"),
            )
        )
    return sonority


def _guesses(known: dict[str, Sonority]) -> dict[str, str]:
    """Return, for each neighbour that is not in the collection, a guess of what was meant."""
    names = {neighbour.sonority for sonority in known.values() for neighbour in sonority.neighbours}
    unknown = sorted(names - known.keys())
    # Where many are missing, a part of the collection is, and no name was mistyped.
    near = {name: near_names(name, known, count=1) for name in unknown[:MOST_GUESSES]}
    return {name: f"; did you mean {near[name][0]}?" if near.get(name) else "" for name in unknown}


def _unknown_neighbours(sonority: Sonority, guesses: dict[str, str]) -> Iterator[str]:
    for neighbour in sonority.neighbours:
        if neighbour.sonority in guesses:
            guess = guesses[neighbour.sonority]
            yield f"its neighbour {neighbour.sonority!r} is not in this collection{guess}"

"""A record added to a collection file, which keeps its comments and everything else."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from reedchord.collection import Collection
from reedchord.collection_reading import parse_collection
from reedchord.errors import RequestError
from reedchord.exchange.collection_text import collection_data, json_text, styled, yaml_text
from reedchord.exchange.commented import read_commented


def collection_with(
    file: Path | None, record: dict[str, Any], source: dict[str, Any] | None
) -> tuple[str, Collection]:
    """Return the text of a file with a record, and a source where it is new, added at the end.

    Without a file, or where it is not there yet, it is a collection of this one record. Raises
    what reading raises, RequestError for a folder.
    """
    return collection_with_all(file, [record], [source] if source else [])


def collection_with_all(
    file: Path | None, records: list[dict[str, Any]], sources: list[dict[str, Any]]
) -> tuple[str, Collection]:
    """Return the same with any number of records and sources."""
    if file is None or not file.exists():
        name = str(file or "collection.yaml")
        data = collection_data(sources, records)
        text = json_text(data) if name.casefold().endswith(".json") else yaml_text(data)
        return text, parse_collection(text, name)
    if file.is_dir():
        raise RequestError(
            "new.folder", f"{file} is a folder", hint="Name a file in it, old or new."
        )
    before, [old] = read_commented(file)
    if file.suffix.casefold() == ".json":
        data = dict(old.fields.data)
        data["sources"] = [*data.get("sources", []), *sources]
        data["sonorities"] = [*data.get("sonorities", []), *records]
        text = json_text(data)
    else:
        for kind, rows in (("sources", sources), ("sonorities", records)):
            for row in rows:
                old.append(kind, styled(row), [])
        text = old.as_text()
    collection = parse_collection(text, str(file))
    for sonority in before:
        assert collection[sonority.id] == sonority  # what was there stays as it was
    return text, collection

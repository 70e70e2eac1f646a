"""A collection in each form that it can be exported as."""

from __future__ import annotations

from collections.abc import Callable

from reedchord.collection import Collection
from reedchord.exchange.collection_text import (
    collection_data,
    json_text,
    sonority_data,
    source_data,
    yaml_text,
)
from reedchord.exchange.csv_export import csv_text
from reedchord.exchange.references import bibtex, csl_json


def exported(collection: Collection, kind: str) -> str:
    """Return a collection as `csv`, `json`, `yaml`, or its sources as `bibtex` or `csl`."""
    return _WRITERS[kind](collection)


def _as_json(collection: Collection) -> str:
    return json_text(_data(collection))


def _as_yaml(collection: Collection) -> str:
    return yaml_text(_data(collection))


def _data(collection: Collection) -> dict[str, object]:
    return collection_data(
        map(source_data, collection.sources.values()), map(sonority_data, collection)
    )


def _as_bibtex(collection: Collection) -> str:
    return bibtex(collection.sources.values())


def _as_csl(collection: Collection) -> str:
    return csl_json(collection.sources.values())


_WRITERS: dict[str, Callable[[Collection], str]] = {
    "csv": csv_text,
    "json": _as_json,
    "yaml": _as_yaml,
    "bibtex": _as_bibtex,
    "csl": _as_csl,
}

"""A checked collection as bytes, from which each sonority is made when it is asked for."""

from __future__ import annotations

import io
import pickle
from collections.abc import Iterator, Mapping
from fractions import Fraction
from functools import cache
from importlib import import_module
from typing import Any

from reedchord.collection import Collection
from reedchord.sonority import Sonority
from reedchord.source import Source


def packed(collection: Collection) -> bytes:
    """Return a collection as bytes that `unpacked` reads; sources are written once."""
    sources = {id(source): name for name, source in collection.sources.items()}
    records = {
        name: _bytes_of(sonority, sources) for name, sonority in collection.sonorities.items()
    }
    whole = (collection.sources, records, collection.origin, collection.warnings)
    return pickle.dumps(whole, protocol=5)


def unpacked(data: bytes) -> Collection:
    """Return the collection that was packed.

    Raises pickle.UnpicklingError for bytes that would make anything but records.
    """
    sources, records, origin, warnings = _OurRecords(data, {}).load()
    return Collection(_Sonorities(records, sources), sources, origin, warnings)


class _Sonorities(Mapping[str, Sonority]):
    """Sonorities by id, each made of its bytes when it is first asked for."""

    def __init__(self, records: Mapping[str, bytes], sources: Mapping[str, Source]) -> None:
        self._records = records
        self._sources = sources
        self._made: dict[str, Sonority] = {}

    def __getitem__(self, name: str) -> Sonority:
        made = self._made.get(name)
        if made is None:
            made = self._made[name] = _OurRecords(self._records[name], self._sources).load()
        return made

    def __iter__(self) -> Iterator[str]:
        return iter(self._records)

    def __len__(self) -> int:
        return len(self._records)

    def __contains__(self, name: object) -> bool:
        return name in self._records


def _bytes_of(sonority: Sonority, sources: Mapping[int, str]) -> bytes:
    stream = io.BytesIO()
    _SourcesByName(stream, sources).dump(sonority)
    return stream.getvalue()


class _SourcesByName(pickle.Pickler):
    """Writes the id of a source that the collection lists, not the source again."""

    def __init__(self, stream: io.BytesIO, sources: Mapping[int, str]) -> None:
        super().__init__(stream, protocol=5)
        self._sources = sources

    def persistent_id(self, part: Any) -> str | None:
        return self._sources.get(id(part)) if isinstance(part, Source) else None


class _OurRecords(pickle.Unpickler):
    """Makes nothing but records, fractions and what records consist of."""

    def __init__(self, data: bytes, sources: Mapping[str, Source]) -> None:
        super().__init__(io.BytesIO(data))
        self._sources = sources

    def persistent_load(self, name: Any) -> Source:
        return self._sources[name]

    def find_class(self, module: str, name: str) -> Any:
        return _our_class(module, name)


@cache
def _our_class(module: str, name: str) -> type:
    if (module, name) == ("fractions", "Fraction"):
        return Fraction
    if module.partition(".")[0] == "reedchord":
        found = getattr(import_module(module), name, None)
        if isinstance(found, type) and found.__module__ == module:
            return found
    raise pickle.UnpicklingError(f"{module}.{name} is no part of a collection")

"""A checked collection as bytes, from which sonorities are made when they are asked for.

They are made some at a time, and faster than records make themselves: all of one kind are made
empty, then all are filled. Nothing is validated again; what is equal is written once.
"""

from __future__ import annotations

import hashlib
import io
import pickle
from collections import deque
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import is_dataclass
from fractions import Fraction
from functools import cache
from importlib import import_module
from itertools import repeat
from typing import Any

from reedchord.collection import Collection
from reedchord.many_objects import many_objects
from reedchord.record_fields import Record
from reedchord.saxophones import FAMILY
from reedchord.sonority import Sonority
from reedchord.source import Source

BATCH = 64
"""How many sonorities are made together: few enough for one, enough for all to share parts."""


def packed(collection: Collection) -> bytes:
    """Return a collection as bytes that `unpacked` reads."""
    names = list(collection.sonorities)
    apart = _apart(collection.sources)
    batches = [
        _bytes_of([collection.sonorities[name] for name in names[at : at + BATCH]], apart)
        for at in range(0, len(names), BATCH)
    ]
    listed = list(collection.sources), _bytes_of(collection.sources.values(), {})
    whole = (listed, names, batches, collection.origin, collection.warnings)
    return pickle.dumps(whole, protocol=5)


def unpacked(data: bytes) -> Collection:
    """Return the collection that was packed.

    Raises pickle.UnpicklingError for bytes that would make anything but records.
    """
    (ids, listed), names, batches, origin, warnings = _OurRecords(data, {}).load()
    sources = dict(zip(ids, _records_of(listed, {}), strict=True))
    return Collection(_Sonorities(names, batches, _apart(sources)), sources, origin, warnings)


def content_of(collection: Collection) -> str | None:
    """Return a name of all sonorities of an unpacked collection, None for any other one."""
    sonorities = collection.sonorities
    return sonorities.content() if isinstance(sonorities, _Sonorities) else None


def _apart(sources: Mapping[str, Source]) -> dict[str, Any]:
    """Return what no batch holds, by the names that stand there instead."""
    members = {f"saxophone {name}": member for name, member in FAMILY.items()}
    return members | {f"source {name}": source for name, source in sources.items()}


class _Sonorities(Mapping[str, Sonority]):
    """Sonorities by id, each made with its batch when one of it is first asked for."""

    def __init__(self, names: list[str], batches: list[bytes], apart: Mapping[str, Any]) -> None:
        self._places = {name: place for place, name in enumerate(names)}
        self._batches = batches
        self._apart = apart
        self._made: dict[str, Sonority] = {}

    def __getitem__(self, name: str) -> Sonority:
        made = self._made.get(name)
        return self._make(name) if made is None else made

    def _make(self, name: str) -> Sonority:
        batch = self._batches[self._places[name] // BATCH]
        self._made |= {one.id: one for one in _records_of(batch, self._apart)}
        return self._made[name]

    def content(self) -> str:
        """Return a name of all that is in them, and in no others."""
        whole = hashlib.sha256()
        for part in ("\n".join(self._places).encode(), *self._batches):
            whole.update(len(part).to_bytes(8, "big") + part)
        return whole.hexdigest()

    def __iter__(self) -> Iterator[str]:
        return iter(self._places)

    def __len__(self) -> int:
        return len(self._places)

    def __contains__(self, name: object) -> bool:
        return name in self._places


def _bytes_of(records: Iterable[Record], apart: Mapping[str, Any]) -> bytes:
    names = {id(part): name for name, part in apart.items()}
    stream, once = io.BytesIO(), _Once(names)
    packing = _Packing(stream, names)
    packing.dump([once.of(record) for record in records])
    while packing.empty:
        kinds, packing.empty = list(packing.empty.values()), {}
        packing.dump(
            [(made, [vars(r) for r in made], [r.model_fields_set for r in made]) for made in kinds]
        )
    packing.dump([])
    return stream.getvalue()


def _records_of(data: bytes, apart: Mapping[str, Any]) -> list[Any]:
    unpacking = _OurRecords(data, apart)
    with many_objects():
        records: list[Any] = unpacking.load()
        while kinds := unpacking.load():
            for made, values, given in kinds:
                _fill(made, values, given)
    return records


def _fill(
    records: Iterable[Record], values: Iterable[dict[str, Any]], given: Iterable[set[str]]
) -> None:
    """Give empty records their fields, and the names of those that were given, as pydantic does."""
    state = {
        "__dict__": values,
        "__pydantic_fields_set__": given,
        "__pydantic_extra__": repeat(None),
        "__pydantic_private__": repeat(None),
    }
    for name, parts in state.items():
        deque(map(object.__setattr__, records, repeat(name), parts), maxlen=0)


class _Once:
    """Gives for a part of a record the equal one that was there before."""

    def __init__(self, apart: Mapping[int, str]) -> None:
        self._apart = apart
        self._known: dict[Any, Any] = {}

    def of(self, part: Any) -> Any:
        kind: Any = type(part)
        if id(part) in self._apart:
            return part
        if isinstance(part, Record):
            values = {name: self.of(value) for name, value in vars(part).items()}
            given = self._known.setdefault(frozenset(part.model_fields_set), part.model_fields_set)
            made = kind.__new__(kind)
            _fill([made], [values], [given])
            return self._known.setdefault((kind, id(given), *_ids(values.items())), made)
        if is_dataclass(part):
            values = {name: self.of(value) for name, value in vars(part).items()}
            made = kind.__new__(kind)
            vars(made).update(values)
            return self._known.setdefault((kind, *_ids(values.items())), made)
        if isinstance(part, dict):
            pairs = {self.of(key): self.of(value) for key, value in part.items()}
            return self._known.setdefault((kind, *_ids(pairs.items())), pairs)
        if isinstance(part, tuple):
            parts = tuple.__new__(kind, map(self.of, part))
            return self._known.setdefault((kind, *map(id, parts)), parts)
        return self._known.setdefault((kind, part), part)


def _ids(items: Iterable[tuple[Any, Any]]) -> Iterator[int]:
    """Yield what tells whether parts are the same, of parts that are there once."""
    for key, value in items:
        yield from (id(key), id(value))


class _Packing(pickle.Pickler):
    """Writes records empty; names what stands apart."""

    def __init__(self, stream: io.BytesIO, apart: Mapping[int, str]) -> None:
        super().__init__(stream, protocol=5)
        self._apart = apart
        self.empty: dict[type, list[Record]] = {}

    def persistent_id(self, part: Any) -> str | None:
        return self._apart.get(id(part))

    def reducer_override(self, part: Any) -> Any:
        if isinstance(part, Record):
            self.empty.setdefault(type(part), []).append(part)
            return part.__reduce_ex__(5)[:2]  # without its state
        if type(part) is Fraction:
            return Fraction, part.as_integer_ratio()
        return NotImplemented


class _OurRecords(pickle.Unpickler):
    """Makes nothing but records, fractions and what records consist of."""

    def __init__(self, data: bytes, apart: Mapping[str, Any]) -> None:
        super().__init__(io.BytesIO(data))
        self._apart = apart

    def persistent_load(self, name: Any) -> Any:
        return self._apart[name]

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

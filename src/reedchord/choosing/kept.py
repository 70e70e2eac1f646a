"""What is made of a collection once, and kept as long as the collection lives."""

from __future__ import annotations

import weakref
from collections.abc import Callable
from functools import wraps
from typing import TypeVar

from reedchord.collection import Collection
from reedchord.many_objects import many_objects

_T = TypeVar("_T")


def kept(make: Callable[[Collection], _T]) -> Callable[[Collection], _T]:
    """Return a function that makes it once for each collection, and anew for one that grew."""
    known: dict[int, tuple[weakref.ref[Collection], int, _T]] = {}

    @wraps(make)
    def get(collection: Collection) -> _T:
        key = id(collection)
        if key in known:
            reference, size, made = known[key]
            if reference() is collection and size == len(collection):
                return made
        with many_objects():
            made = make(collection)
        reference = weakref.ref(collection, lambda _: known.pop(key, None))
        known[key] = reference, len(collection), made
        return made

    return get

"""Tables of large collections, kept in files beside the collections that were read before."""

from __future__ import annotations

import hashlib
import io
import sys
import zipfile
from collections.abc import Mapping, Sequence
from fractions import Fraction
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from reedchord.choosing.tone_table import Limits, ToneTable
from reedchord.collection import Collection
from reedchord.kept_files import cache_folder, code_state, keep_bytes, kept_bytes
from reedchord.packed_records import content_of
from reedchord.sonority import Sonority

_SUFFIX = ".tones"
_COLUMNS = (
    "concert", "off_grid", "presences", "presence", "saxophones", "places", "evidence",
    "emphasised", "said_dynamics",
)  # fmt: skip
_LIMITS = ("rows", "ranks", "ways", "levels")
_RATES = "rates"


class _InOrder(Sequence[Sonority]):
    """The sonorities of a collection in the order of their ids, each made when it is asked for."""

    def __init__(self, sonorities: Mapping[str, Sonority]) -> None:
        self._sonorities = sonorities
        self._names = sorted(sonorities)

    def __getitem__(self, row: Any) -> Any:
        return self._sonorities[self._names[row]]

    def __len__(self) -> int:
        return len(self._names)


def kept_table(collection: Collection) -> ToneTable | None:
    """Return the table that was kept of a collection, None where there is none."""
    entry = _entry(collection)
    body = kept_bytes(entry) if entry else None
    if body is None:
        return None
    try:
        with np.load(io.BytesIO(body), allow_pickle=False) as arrays:
            return _table(collection, arrays)
    except (EOFError, KeyError, ValueError, zipfile.BadZipFile):
        return None


def keep_table(collection: Collection, table: ToneTable) -> None:
    """Keep a table, where the collection is kept."""
    entry = _entry(collection)
    if entry is None:
        return
    arrays: dict[str, NDArray[Any]] = {name: getattr(table, name) for name in _COLUMNS}
    arrays |= {f"limits {name}": getattr(table.limits, name) for name in _LIMITS}
    arrays[_RATES] = np.array([str(rate) for rate in table.limits.rates], np.str_)
    stream = io.BytesIO()
    np.savez(stream, allow_pickle=False, **arrays)
    keep_bytes(entry, stream.getvalue())


def _entry(collection: Collection) -> Path | None:
    """Return the file of a table, named by all that decides what is in it."""
    folder, content = cache_folder(), content_of(collection)
    if folder is None or content is None:
        return None
    here = Path(__file__).parent
    makers = code_state(here), code_state(here.parent), np.__version__, sys.byteorder
    name = hashlib.sha256(f"{content} {makers}".encode()).hexdigest()
    return folder / f"{name}{_SUFFIX}"


def _table(collection: Collection, arrays: Mapping[str, NDArray[Any]]) -> ToneTable | None:
    columns: dict[str, Any] = {name: arrays[name] for name in _COLUMNS}
    if columns["concert"].shape[1:] != (len(collection),):
        return None
    limits: dict[str, Any] = {name: arrays[f"limits {name}"] for name in _LIMITS}
    rates = list(map(Fraction, arrays[_RATES].tolist()))
    records = _InOrder(collection.sonorities)
    return ToneTable(records=records, limits=Limits(rates=rates, **limits), **columns)

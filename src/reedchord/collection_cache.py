"""Collections that were read before, kept in a form that loads without reading them again.

An entry is named by what was read, file names and bytes, and by the programs that read it, so
that a changed file or program never meets an old entry. Entries are written whole or not at
all; a damaged one is passed over and written anew.
"""

from __future__ import annotations

import hashlib
import os
import pickle
import sys
from collections.abc import Iterator
from pathlib import Path

from reedchord.collection import Collection, collection_files
from reedchord.errors import ReedchordError
from reedchord.kept_files import cache_folder, code_state, keep_bytes, kept_bytes
from reedchord.packed_records import packed, unpacked

_SUFFIX = ".collection"
_NO_COLLECTION = (
    pickle.UnpicklingError,
    ArithmeticError,
    AttributeError,
    EOFError,
    ImportError,
    LookupError,
    MemoryError,
    SystemError,
    TypeError,
    ValueError,
)
"""What unpacking raises for bytes that somebody made up, with the right checksum."""


def cached_collection(path: str | os.PathLike[str]) -> Collection:
    """Read a collection, or give back what reading these very bytes gave before.

    Raises what `read_collection` raises; only collections without mistakes are kept. A cache
    that cannot be read or written is no mistake: the files are read instead.
    """
    folder = cache_folder()
    key = _key(path) if folder else None
    if folder is None or key is None:
        return _read(path)
    entry = folder / f"{key}{_SUFFIX}"
    kept = _kept(entry)
    if kept is not None:
        return kept
    collection = _read(path)
    # Somebody may have changed a file while it was read.
    if _key(path) == key:
        keep_bytes(entry, packed(collection))
    return collection


def _read(path: str | os.PathLike[str]) -> Collection:
    from reedchord.collection_reading import read_collection  # not needed for what is kept

    return read_collection(path)


def _key(path: str | os.PathLike[str]) -> str | None:
    """Return the hash of all that decides what reading gives, None where it cannot be told."""
    whole = hashlib.sha256(_readers().encode())
    try:
        for part in _bytes_read(Path(path)):
            whole.update(len(part).to_bytes(8, "big"))
            whole.update(part)
    except (OSError, ReedchordError):
        return None
    return whole.hexdigest()


def _bytes_read(path: Path) -> Iterator[bytes]:
    yield os.fsencode(path)
    for file in collection_files(path):
        yield os.fsencode(file)
        yield file.read_bytes()


def _readers() -> str:
    """Name what reads collections: another Python or another state of our code reads anew."""
    import pydantic

    ours = code_state(Path(__file__).parent)
    return f"{sys.version} pydantic {pydantic.VERSION} reedchord {ours}"


def _kept(entry: Path) -> Collection | None:
    body = kept_bytes(entry)
    if body is None:
        return None
    try:
        return unpacked(body)
    except _NO_COLLECTION:
        return None

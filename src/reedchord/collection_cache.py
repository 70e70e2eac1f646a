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
from contextlib import suppress
from pathlib import Path

from reedchord.collection import Collection, collection_files
from reedchord.errors import ReedchordError
from reedchord.packed_records import packed, unpacked
from reedchord.score_files import write_atomically

FOLDER_VARIABLE = "REEDCHORD_CACHE"
"""Environment variable: the folder of the cache, or `off`."""

MOST_ENTRIES = 64
_SUFFIX = ".collection"
_HASH_BYTES = 32
_NO_COLLECTION = (
    pickle.UnpicklingError,
    AttributeError,
    EOFError,
    ImportError,
    LookupError,
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
        _keep(collection, entry)
    return collection


def _read(path: str | os.PathLike[str]) -> Collection:
    from reedchord.collection_reading import read_collection  # not needed for what is kept

    return read_collection(path)


def cache_folder() -> Path | None:
    """Return the folder of the cache, None where it is switched off."""
    said = os.environ.get(FOLDER_VARIABLE)
    if said is not None:
        return None if said.strip().casefold() in ("", "off") else Path(said)
    system: str = sys.platform
    if system == "linux":
        # XDG Base Directory Specification 0.8; looking it up here saves the import.
        base = os.environ.get("XDG_CACHE_HOME", "")
        return (Path(base) if base.startswith("/") else Path.home() / ".cache") / "reedchord"
    import platformdirs

    return Path(platformdirs.user_cache_dir("reedchord", appauthor=False))


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

    code = Path(__file__).parent
    states = [(file.name, file.stat()) for file in sorted(code.glob("*.py"))]
    ours = [(name, state.st_size, state.st_mtime_ns) for name, state in states]
    return f"{sys.version} pydantic {pydantic.VERSION} reedchord {ours}"


def _kept(entry: Path) -> Collection | None:
    try:
        data = entry.read_bytes()
    except OSError:
        return None
    checksum, body = data[:_HASH_BYTES], data[_HASH_BYTES:]
    if hashlib.sha256(body).digest() != checksum:
        return None
    try:
        return unpacked(body)
    except _NO_COLLECTION:
        return None


def _keep(collection: Collection, entry: Path) -> None:
    with suppress(OSError, ReedchordError):
        entry.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        body = packed(collection)
        write_atomically(entry, hashlib.sha256(body).digest() + body)
        _forget_oldest(entry.parent)


def _forget_oldest(folder: Path) -> None:
    entries = sorted(folder.glob(f"*{_SUFFIX}"), key=lambda entry: entry.stat().st_mtime_ns)
    for entry in entries[:-MOST_ENTRIES]:
        entry.unlink(missing_ok=True)

"""What took long to make, kept in files of our own, so that it need not be made again.

Entries are written whole or not at all; a damaged one is passed over.
"""

from __future__ import annotations

import hashlib
import os
import sys
from contextlib import suppress
from pathlib import Path

from reedchord.errors import ReedchordError
from reedchord.score_files import write_atomically

FOLDER_VARIABLE = "REEDCHORD_CACHE"
"""Environment variable: the folder of the cache, or `off`."""

MOST_ENTRIES = 64
"""How many of each kind are kept."""
_HASH_BYTES = 32


def cache_folder() -> Path | None:
    """Return the folder of the cache, None where it is switched off or the user has no home."""
    said = os.environ.get(FOLDER_VARIABLE)
    if said is not None:
        return None if said.strip().casefold() in ("", "off") else Path(said)
    system: str = sys.platform
    if system == "linux":
        # XDG Base Directory Specification 0.8; looking it up here saves the import.
        base = os.environ.get("XDG_CACHE_HOME", "")
        if base.startswith("/"):
            return Path(base) / "reedchord"
        try:
            return Path.home() / ".cache" / "reedchord"
        except RuntimeError:  # a user whom the system does not know, as in a container
            return None
    import platformdirs

    return Path(platformdirs.user_cache_dir("reedchord", appauthor=False))


def code_state(folder: Path) -> list[tuple[str, int, int]]:
    """Return what tells whether the modules of a folder are those that made an entry."""
    states = [(file.name, file.stat()) for file in sorted(folder.glob("*.py"))]
    return [(name, state.st_size, state.st_mtime_ns) for name, state in states]


def kept_bytes(entry: Path) -> bytes | None:
    """Return what was kept, None where nothing is, or nothing whole."""
    try:
        data = entry.read_bytes()
    except OSError:
        return None
    checksum, body = data[:_HASH_BYTES], data[_HASH_BYTES:]
    return body if hashlib.sha256(body).digest() == checksum else None


def keep_bytes(entry: Path, body: bytes) -> None:
    """Keep something, where that can be; the oldest of its kind are forgotten."""
    with suppress(OSError, ReedchordError):
        entry.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        write_atomically(entry, hashlib.sha256(body).digest() + body)
        kind = entry.parent.glob(f"*{entry.suffix}")
        for old in sorted(kind, key=lambda one: one.stat().st_mtime_ns)[:-MOST_ENTRIES]:
            old.unlink(missing_ok=True)

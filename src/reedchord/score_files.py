"""Scores on disk: read whole, written whole or not at all."""

from __future__ import annotations

import errno
import os
import sys
import tempfile
import time
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from reedchord.errors import InputError, ReedchordError, Where
from reedchord.input_files import unreadable
from reedchord.musicxml.container import open_score
from reedchord.musicxml.score_file import ScoreFile
from reedchord.musicxml.score_text import MAX_SCORE_BYTES

STANDARD_STREAM = "-"
_UNFINISHED = ".reedchord-unfinished-"
_TURN = ".reedchord-turn-"
MOST_SECONDS_WAITED = 10.0
_SECONDS_BETWEEN_LOOKS = 0.02


def read_bytes(path: Path) -> bytes:
    """Return a file's bytes, standard input's for `-`; raises InputError with the reason.

    No more is read than a score may have: some files never end.
    """
    try:
        if str(path) == STANDARD_STREAM:
            data = sys.stdin.buffer.read(MAX_SCORE_BYTES + 1)
        else:
            with path.open("rb") as stream:
                data = stream.read(MAX_SCORE_BYTES + 1)
    except OSError as error:
        raise unreadable(path, error) from None
    if len(data) > MAX_SCORE_BYTES:
        raise InputError(
            "file.size",
            f"the file has more than {MAX_SCORE_BYTES:,} bytes, the limit for a score",
            where=Where(path=str(path)),
        )
    return data


def read_score_file(path: Path) -> ScoreFile:
    """Open a .musicxml, .xml or .mxl file; raises InputError with its path."""
    data = read_bytes(path)
    try:
        return open_score(data)
    except ReedchordError as error:
        raise error.at(Where(path=str(path))) from None


def as_file(score: bytes, file: ScoreFile, out: Path) -> bytes:
    """Return a changed document as the bytes of an output file.

    The suffix decides: .mxl is a package, .musicxml and .xml are plain; any other name
    keeps the shape of the input.
    """
    suffix = out.suffix.casefold()
    if suffix == ".mxl" or (file.package and suffix not in (".musicxml", ".xml")):
        from reedchord.musicxml.packing import new_package, repack

        return repack(file, score) if file.package else new_package(score)
    return score


def write_atomically(path: Path, data: bytes) -> bool:
    """Write a file so that at any moment either the old or the new one is there.

    Links are followed, the mode is kept, and a file that would not change is not touched;
    returns whether it was written. `-` is standard output, and what is no ordinary file, as
    a device, is written into. Raises InputError with the reason, also where a file is marked
    read-only.
    """
    if str(path) == STANDARD_STREAM:
        sys.stdout.buffer.write(data)
        return True
    target = Path(os.path.realpath(path))
    try:
        if target.exists() and not target.is_file():
            target.write_bytes(data)
            return True
        if target.exists():
            if target.read_bytes() == data:
                return False
            if not os.access(target, os.W_OK):
                raise PermissionError(errno.EACCES, "the file is marked read-only")
        _replace(target, data)
    except OSError as error:
        raise _unwritable(path, error) from None
    return True


@contextmanager
def in_turn(path: Path) -> Iterator[None]:
    """Let no other program of ours read this file and write it anew in between.

    Whoever adds to a file holds its turn, an empty file beside it, from reading to writing: else
    what another adds meanwhile would be lost. Raises InputError where the turn does not come.
    """
    target = Path(os.path.realpath(path))
    turn = target.with_name(f"{_TURN}{zlib.crc32(target.name.encode('utf-8', 'replace')):08x}")
    _wait_for(turn, path)
    try:
        yield
    finally:
        turn.unlink(missing_ok=True)


def _wait_for(turn: Path, path: Path) -> None:
    end = time.monotonic() + MOST_SECONDS_WAITED
    while True:
        try:
            os.close(os.open(turn, os.O_CREAT | os.O_EXCL | os.O_WRONLY))
        except FileExistsError:
            if time.monotonic() > end:
                raise InputError(
                    "file.turn",
                    "another program is adding to it",
                    hint=f"Try again; if there is no other, delete {turn}.",
                    where=Where(path=str(path)),
                ) from None
            time.sleep(_SECONDS_BETWEEN_LOOKS)
        except OSError as error:
            raise _unwritable(path, error) from None
        else:
            return


def _unwritable(path: Path, error: OSError) -> InputError:
    return InputError(
        "file.unwritable",
        f"cannot be written: {_why_not(path, error)}",
        where=Where(path=str(path)),
    )


def _why_not(path: Path, error: OSError) -> str:
    if not path.parent.is_dir():
        return f"there is no folder {path.parent}"
    return "this is a folder" if path.is_dir() else str(error.strerror or error)


def _replace(target: Path, data: bytes) -> None:
    handle, name = tempfile.mkstemp(dir=target.parent, prefix=_UNFINISHED)
    temporary = Path(name)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        temporary.chmod(target.stat().st_mode & 0o7777 if target.exists() else _usual_mode())
        temporary.replace(target)
    except BaseException:
        temporary.unlink(missing_ok=True)
        raise


def _usual_mode() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask

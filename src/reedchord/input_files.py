"""Files that are read: their text, or why there is none, with near names for what is missing."""

from __future__ import annotations

from collections.abc import Collection
from pathlib import Path

from reedchord.errors import InputError, Where, did_you_mean, near_names


def read_text(path: Path, endings: Collection[str] = ()) -> str:
    """Return the text of a file; raises InputError where it is not there, or not UTF-8.

    `endings` are those of near names to offer; without them, the file's own.
    """
    try:
        return path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise InputError(
            "file.encoding",
            f"the text is not UTF-8 (byte {error.start})",
            hint="Save the file as UTF-8.",
            where=Where(path=str(path)),
        ) from None
    except OSError as error:
        raise unreadable(path, error, endings) from None


def unreadable(path: Path, error: OSError, endings: Collection[str] = ()) -> InputError:
    """Return what to raise where the system does not give a file."""
    if isinstance(error, FileNotFoundError):
        return missing(path, endings)
    why = "this is a folder" if path.is_dir() else error.strerror or error
    return InputError(
        "file.unreadable",
        f"cannot be read: {why}",
        where=Where(path=str(path)),
    )


def missing(path: Path, endings: Collection[str] = (), what: str = "file") -> InputError:
    """Return what to raise for a file that is not there, with near names beside it."""
    return InputError(
        "file.missing",
        f"there is no such {what}",
        hint=_near(path, endings or (path.suffix.casefold(),)),
        where=Where(path=str(path)),
    )


def _near(path: Path, endings: Collection[str]) -> str | None:
    if not path.parent.is_dir():
        return f"There is no folder {path.parent}."
    beside = sorted(file.name for file in path.parent.iterdir() if not file.name.startswith("."))
    alike = [name for name in beside if Path(name).suffix.casefold() in endings]
    names = beside if near_names(path.name, beside) else alike
    return did_you_mean(path.name, names) if names else None

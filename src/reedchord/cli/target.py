"""Where a command writes its score: never over something by accident."""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path

from reedchord.errors import RequestError, Where
from reedchord.file_endings import refused_ending

MUSICXML_SUFFIXES = (".musicxml", ".xml", ".mxl")
_COLLECTION = re.compile(rb"reedchord\W+collection\b")


def chosen_target(
    score: Path, out: Path | None, *, in_place: bool, others: Iterable[Path | None] = ()
) -> Path | None:
    """Return the file to write, None where none is named.

    `others` are files that were read besides the score. Raises RequestError where the
    output would overwrite something that was read, unless that was asked for.
    """
    from reedchord.score_files import STANDARD_STREAM

    if in_place:
        if out is not None:
            raise RequestError("output.two", "say either -o FILE or --in-place, not both")
        if str(score) == STANDARD_STREAM:
            raise RequestError("output.in-place", "standard input cannot be changed in place")
        return score
    if out is None or str(out) == STANDARD_STREAM:
        return out
    if _is_same(out, score):
        raise RequestError(
            "output.overwrites-input",
            "the output is the score itself",
            hint="Say --in-place if that is meant.",
        )
    refuse_overwriting(out, others)
    if out.is_dir() or not out.absolute().parent.is_dir():
        what = "is a folder" if out.is_dir() else "lies in a folder that does not exist"
        raise RequestError("output.folder", f"the output {what}", where=Where(path=str(out)))
    _refuse_other_name(out)
    return out


def _refuse_other_name(out: Path) -> None:
    """Raise RequestError where a score would stand under the name of something else."""
    if out.suffix.casefold() not in ("", *MUSICXML_SUFFIXES) and not _is_device(out):
        raise refused_ending(out, MUSICXML_SUFFIXES, "a score, which is MusicXML,")


def _is_device(out: Path) -> bool:
    return out.exists() and not out.is_file()


def refuse_score_name(out: Path, what: str, instead: str) -> None:
    """Raise RequestError where something that is no score would stand under a score's name."""
    if out.suffix.casefold() in MUSICXML_SUFFIXES:
        raise RequestError(
            "output.score-name",
            f"{what} is no score, and the name is a score's",
            hint=f"Name it otherwise: -o {instead}.",
            where=Where(path=str(out)),
        )


def refuse_overwriting(out: Path, read: Iterable[Path | None]) -> None:
    """Raise RequestError where the output is one of the files, or in a folder, that were read."""
    for other in read:
        if other is not None and (_is_same(out, other) or _is_collection_in(other, out)):
            raise RequestError(
                "output.overwrites-input",
                f"the output would overwrite {out}, which is read",
                hint="Name another file behind -o.",
            )


def _is_collection_in(folder: Path, out: Path) -> bool:
    """Whether a file was read as a part of a folder of sonorities; plans beside them are not."""
    if not (folder.is_dir() and out.is_file() and out.absolute().parent.samefile(folder)):
        return False
    return _COLLECTION.search(out.read_bytes()) is not None


def _is_same(one: Path, other: Path) -> bool:
    return one.exists() and other.exists() and one.samefile(other)

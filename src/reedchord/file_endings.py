"""Formats of files that are written: told by the ending of a name, by a word, or by both alike."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from enum import StrEnum
from pathlib import Path
from typing import TypeVar

from reedchord.errors import RequestError, did_you_mean

_Kind = TypeVar("_Kind")
_Named = TypeVar("_Named", bound=StrEnum)
_PRINTED = "-"

Endings = Mapping[str, tuple[_Kind, ...]]
"""The formats that may stand under an ending, the usual one first; endings in lower case."""


def endings_named(kinds: Iterable[_Named]) -> dict[str, tuple[_Named, ...]]:
    """Return the endings of formats that are called like their endings: `.svg` of svg."""
    return {f".{kind}": (kind,) for kind in kinds}


def format_by_ending(path: Path, endings: Endings[_Kind], what: str) -> _Kind:
    """Return the usual format under the ending of a file's name.

    `what` is what is to be written: `a picture`. Raises RequestError for any other ending.
    """
    found = _under_ending(path, endings)
    if found is None:
        raise refused_ending(path, endings, what)
    return found[0]


def refused_ending(path: Path, endings: Iterable[str], what: str) -> RequestError:
    """Return what to raise where something would stand under the name of something else."""
    return RequestError(
        "output.ending",
        f"{what} cannot be written to {path}",
        hint=f"Name a file that ends in {', '.join(endings)}.",
    )


def chosen_format(
    name: str | None,
    path: Path | None,
    kinds: type[_Named],
    endings: Endings[_Named],
    what: str,
) -> _Named | None:
    """Return the format that was named, else that of a file's ending, None where nothing tells.

    A name goes with any ending that tells nothing. Raises RequestError for a name that is no
    format, for an ending that tells nothing where nothing is named, and where both differ.
    """
    if name is not None and name not in list(kinds):
        hint = did_you_mean(name, kinds)
        raise RequestError("output.format", f"--format: {name!r} is no format", hint=hint)
    named = kinds(name) if name is not None else None
    if path is None or str(path) == _PRINTED:
        return named
    by_ending = _under_ending(path, endings)
    if by_ending is None:
        if named is None:
            error = refused_ending(path, endings, what)
            error.hint = f"{error.hint} Or say --format with one of: {', '.join(kinds)}."
            raise error
        return named
    if named is not None and named not in by_ending:
        right = next((ending for ending, formats in endings.items() if named in formats), None)
        raise RequestError(
            "output.two-formats",
            f"the name of {path} says {by_ending[0]}, but --format says {named}",
            hint=f"Leave --format out{f', or let the name end in {right}' if right else ''}.",
        )
    return named or by_ending[0]


def _under_ending(path: Path, endings: Endings[_Kind]) -> tuple[_Kind, ...] | None:
    name = path.name.casefold()
    fitting = [ending for ending in endings if name.endswith(ending)]
    return endings[max(fitting, key=len)] if fitting else None

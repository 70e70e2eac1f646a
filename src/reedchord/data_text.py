"""Plain data read from a text, with the place of every field in it."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, NamedTuple

from reedchord.errors import InputError, Where

Path = tuple[str | int, ...]
"""Keys and indexes that lead from the top of a document to a field."""

MAX_DEPTH = 60


class DataText(NamedTuple):
    """Plain data read from a text, with the line and column (from 1) of every field."""

    data: Any
    positions: Mapping[Path, tuple[int, int]] = MappingProxyType({})

    def where(self, path: Path, file: str | None = None) -> Where:
        """Return the place of a field, or of the nearest thing around it."""
        for length in range(len(path), -1, -1):
            if path[:length] in self.positions:
                line, column = self.positions[path[:length]]
                return Where(path=file, line=line, column=column)
        return Where(path=file)


def field_text(path: Path) -> str:
    """Return a path as people read it, entries counted from 1: `tones[2].written`."""
    text = ""
    for key in path:
        text += f"[{key + 1}]" if isinstance(key, int) else f".{key}"
    return text.lstrip(".")


def too_deep(file: str) -> InputError:
    """Return the error for data that is nested deeper than any of our formats."""
    return InputError(
        "data.depth", f"the data is nested more than {MAX_DEPTH} deep", where=Where(path=file)
    )


def named_twice(key: str, place: Where) -> InputError:
    """Return the error for a field that a mapping holds twice."""
    return InputError("data.twice", f"the field {key!r} stands here twice", where=place)

"""Tables of plain text for a terminal."""

from __future__ import annotations

from collections.abc import Sequence

WIDTH = 88
"""Characters in a line of text for people."""


def aligned(rows: Sequence[Sequence[str]]) -> list[str]:
    """Return rows of equally many cells as lines, their columns under each other."""
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    return [
        "  ".join(f"{cell:<{width}}" for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in rows
    ]

"""Heights in order, so that what lies near to one is found without looking at the others."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Rows = NDArray[np.intp]
Mask = NDArray[np.bool_]
Heights = NDArray[np.int32]


@dataclass(frozen=True, eq=False)
class SortedHeights:
    """Heights of tones, or widths of intervals, lowest first, each with the row that has it."""

    heights: Heights
    rows: Rows

    def near(
        self, wished: int, within: int, octave: int | None = None
    ) -> Iterator[tuple[Rows, Heights]]:
        """Yield the rows that have something so near, and how far it is away.

        A row comes as often as it has something near. With an `octave`, heights that lie whole
        octaves apart are the same.
        """
        for part, centre in self._parts(wished, within, octave):
            yield self.rows[part], np.abs(self.heights[part] - np.int32(centre))

    def rows_near(self, wished: int, within: int, octave: int | None = None) -> Iterator[Rows]:
        """Yield the same rows alone."""
        return (self.rows[part] for part, _ in self._parts(wished, within, octave))

    def _parts(self, wished: int, within: int, octave: int | None) -> Iterator[tuple[slice, int]]:
        """Yield which heights are so near, and to what."""
        for centre in self._repeated(wished, octave):
            ends = np.array([centre - within, centre + within + 1], np.int32)
            begin, end = np.searchsorted(self.heights, ends)
            if begin < end:
                yield slice(begin, end), centre

    def _repeated(self, wished: int, octave: int | None) -> range:
        if octave is None or not len(self.heights):
            return range(wished, wished + 1)
        lowest, highest = int(self.heights[0]), int(self.heights[-1])
        first = wished + (lowest - wished - octave) // octave * octave
        return range(first, highest + 2 * octave, octave)


def sorted_heights(heights: Heights, rows: Rows) -> SortedHeights:
    """Return heights in order, each with its row."""
    # One sort of both together is several times faster than one of places.
    both = np.sort((heights.astype(np.int64) << 32) | rows)
    return SortedHeights((both >> 32).astype(np.int32), (both & (2**32 - 1)).astype(np.intp))

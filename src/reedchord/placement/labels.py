"""Labels of sonorities and numbers of placements, in order of first appearance."""

from __future__ import annotations

from reedchord.placement.record import ScoreRecord

LABEL_LETTER = "M"


class Labels:
    """Hands out M1, M2, … and counts on from what a score holds already."""

    def __init__(self, settled: ScoreRecord | None) -> None:
        rows = settled.placements if settled else ()
        self._labels = {row.wish.sonority: row.label for row in rows}
        self._number = max((row.number for row in rows), default=0)

    def label(self, sonority_id: str) -> tuple[str, bool]:
        """Return a sonority's label, and whether it appears for the first time."""
        is_first = sonority_id not in self._labels
        if is_first:
            self._labels[sonority_id] = f"{LABEL_LETTER}{len(set(self._labels.values())) + 1}"
        return self._labels[sonority_id], is_first

    def next_number(self) -> int:
        """Return the number of the next placement."""
        self._number += 1
        return self._number

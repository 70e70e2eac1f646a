"""Labels of sonorities and numbers of placements, in order of first appearance."""

from __future__ import annotations

from collections.abc import Iterable

from reedchord.placement.record import OUR_KIND_OF_ID, ScoreRecord

LABEL_LETTER = "M"


class Labels:
    """Hands out M1, M2, … and counts on from what a score holds already.

    Numbers whose ids would meet one of `taken_ids` are passed over.
    """

    def __init__(self, settled: ScoreRecord | None, taken_ids: Iterable[str] = ()) -> None:
        rows = settled.placements if settled else ()
        self._labels = {row.wish.sonority: row.label for row in rows}
        self._labels |= {
            row.wish.other: row.other.label for row in rows if row.wish.other and row.other
        }
        self._number = max((row.number for row in rows), default=0)
        found = (OUR_KIND_OF_ID.fullmatch(taken) for taken in taken_ids)
        self._passed_over = {int(match[1]) for match in found if match}

    def label(self, sonority_id: str) -> tuple[str, bool]:
        """Return a sonority's label, and whether it appears for the first time."""
        is_first = sonority_id not in self._labels
        if is_first:
            self._labels[sonority_id] = self._first_free()
        return self._labels[sonority_id], is_first

    def _first_free(self) -> str:
        taken = set(self._labels.values())
        return next(
            label for n in range(1, len(taken) + 2) if (label := f"{LABEL_LETTER}{n}") not in taken
        )

    def next_number(self) -> int:
        """Return the number of the next placement."""
        self._number += 1
        while self._number in self._passed_over:
            self._number += 1
        return self._number

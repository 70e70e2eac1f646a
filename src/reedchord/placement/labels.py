"""Labels of sonorities and numbers of placements, in order of first appearance."""

from __future__ import annotations

import re
from collections.abc import Iterable

from reedchord.placement.record import ScoreRecord

LABEL_LETTER = "M"
ID_PREFIX = "rc"
_OUR_KIND_OF_ID = re.compile(rf"{ID_PREFIX}-([1-9][0-9]{{0,8}})-.*", re.DOTALL)


class Labels:
    """Hands out M1, M2, … and counts on from what a score holds already.

    Numbers whose ids would meet one of `taken_ids` are passed over.
    """

    def __init__(self, settled: ScoreRecord | None, taken_ids: Iterable[str] = ()) -> None:
        rows = settled.placements if settled else ()
        self._labels = {row.wish.sonority: row.label for row in rows}
        self._number = max((row.number for row in rows), default=0)
        found = (_OUR_KIND_OF_ID.fullmatch(taken) for taken in taken_ids)
        self._passed_over = {int(match[1]) for match in found if match}

    def label(self, sonority_id: str) -> tuple[str, bool]:
        """Return a sonority's label, and whether it appears for the first time."""
        is_first = sonority_id not in self._labels
        if is_first:
            self._labels[sonority_id] = f"{LABEL_LETTER}{len(set(self._labels.values())) + 1}"
        return self._labels[sonority_id], is_first

    def next_number(self) -> int:
        """Return the number of the next placement."""
        self._number += 1
        while self._number in self._passed_over:
            self._number += 1
        return self._number

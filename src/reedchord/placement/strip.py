"""Taking all placements out of a score again."""

from __future__ import annotations

from dataclasses import dataclass

from reedchord.errors import RequestError
from reedchord.musicxml.document import read_score
from reedchord.placement.record import record_of
from reedchord.placement.undo import original_text


@dataclass(frozen=True)
class StrippedScore:
    """A score as it was before its placements: its bytes, and both texts."""

    data: bytes
    before: str
    after: str
    count: int


def strip(data: bytes) -> StrippedScore:
    """Give the bytes of a document back as they were before all placements.

    Raises RequestError where it holds none, or was edited since: then nothing is guessed.
    """
    score = read_score(data)
    record = record_of(score)
    text = original_text(score, record)
    if text is None:
        labels = ", ".join(dict.fromkeys(row.label for row in record.placements))
        raise RequestError(
            "strip.edited",
            f"the score was edited after {labels} were placed, so it cannot be given back as "
            "it was",
            hint="Take the sonorities out by hand, or go back to a copy of the score.",
        )
    return StrippedScore(
        score.source.with_text(text).encode(), score.text, text, len(record.placements)
    )

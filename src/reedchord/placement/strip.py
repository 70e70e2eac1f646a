"""Taking all placements out of a score again."""

from __future__ import annotations

from collections.abc import Container, Sequence
from dataclasses import dataclass

from reedchord.errors import RequestError
from reedchord.musicxml.bar_texts import BarTexts
from reedchord.musicxml.document import Score, read_score
from reedchord.musicxml.header import field_removal, field_span
from reedchord.musicxml.splice import Edit, splice
from reedchord.placement.copies import copies
from reedchord.placement.found import Found, State, find_placements
from reedchord.placement.legends import Legends, legends
from reedchord.placement.record import ScoreRecord, record_of, record_text
from reedchord.placement.take_out import prove_taken_out, take_out
from reedchord.placement.undo import original_score


@dataclass(frozen=True)
class StrippedScore:
    """A score without its placements: its bytes, and both texts.

    `count` placements were taken out and `stay` stay. `is_exact` tells that these are the
    bytes from before; `left` says, where the score was edited since, what stays and why.
    """

    data: bytes
    before: str
    after: str
    count: int
    stay: int
    is_exact: bool
    left: tuple[str, ...]


def strip(data: bytes) -> StrippedScore:
    """Take all placements out of the bytes of a document.

    Where nobody edited it since, these are the bytes from before. Else every chord that is
    as it was placed gives way to what stood there; what others added stays, and chords that
    were edited stay, with the record of them. Raises RequestError where the score holds
    no placements, or none that can be taken out.
    """
    score = read_score(data)
    record = record_of(score)
    original = original_score(score, record)
    if original is None:
        return _strip_edited(score, record)
    data, count = original.source.encode(), len(record.placements)
    return StrippedScore(data, score.text, original.text, count, 0, True, ())


def _strip_edited(score: Score, record: ScoreRecord) -> StrippedScore:
    found = find_placements(score, record)
    out = take_out(score, record, found, found)
    taken = {one.row.number for one in out.taken}
    stay = [one for one in found if one.row.number not in taken]
    there = [one for one in stay if one.state is not State.MISSING]
    missing = [one.words() for one in stay if one.state is State.MISSING]
    if there and not taken:
        raise RequestError(
            "strip.edited",
            "the sonorities were edited since they were placed, and none can be taken out:\n"
            + "\n".join(f"  {sentence}" for sentence in out.left),
            hint="Take them out by hand, or go back to a copy of the score.",
        )
    told = _legends(score, record, there)
    edits = [*out.edits, *told.edits, _field_edit(score, record, there, out.unslurred)]
    text = splice(score.text, edits)
    data = score.source.with_text(text).encode()
    prove_taken_out(score, data, text, edits, out.taken)
    left = (*out.left, *out.slurs, *told.warnings, *missing, *copies(score, found))
    return StrippedScore(data, score.text, text, len(taken), len(there), False, left)


def _legends(score: Score, record: ScoreRecord, there: Sequence[Found]) -> Legends:
    """Return what takes out the legends of parts in which no placement stays."""
    stay = record.of(one.row_now() for one in there).legends
    gone = {part: text for part, text in record.legends.items() if part not in stay}
    return legends(BarTexts(score), score.parts, gone, {})


def _field_edit(
    score: Score, record: ScoreRecord, there: Sequence[Found], unslurred: Container[int]
) -> Edit:
    """Return the edit that leaves the record of what stays in the score, or none at all."""
    span = field_span(score)
    if not there or span is None:
        return field_removal(score)
    rows = (one.row_now() for one in there)
    rows = (row.with_slur(None) if row.number in unslurred else row for row in rows)
    return Edit(span.start, span.end, record_text(record.of(rows)))

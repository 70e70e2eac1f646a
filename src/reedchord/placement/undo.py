"""Giving a score back as it was before its placements."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence

from reedchord.musicxml.document import Score
from reedchord.musicxml.header import field_span
from reedchord.musicxml.splice import Edit, inverse, splice
from reedchord.placement.record import ScoreRecord, Undo


def undo_of(original: str, edits: Sequence[Edit], field_edit: Edit, field: str) -> Undo:
    """Return what undoes `edits` and the field that `field_edit` adds around `field`."""
    before = field_edit.new_text.index(field)
    return Undo(
        sha256=_hash(splice(original, edits)),
        before=before,
        after=len(field_edit.new_text) - before - len(field),
        replaced=original[field_edit.start : field_edit.end],
        edits=[[e.start, e.end - e.start, e.new_text] for e in inverse(edits, original)],
    )


def original_text(score: Score, record: ScoreRecord) -> str | None:
    """Return the text as it was before all placements, None where it was edited since."""
    span, undo = field_span(score), record.undo
    if span is None or undo is None:
        return None
    start, end = span.start - undo.before, span.end + undo.after
    text = score.text[:start] + undo.replaced + score.text[end:]
    if _hash(text) != undo.sha256:
        return None
    return splice(text, [Edit(int(a), int(a) + int(n), str(was)) for a, n, was in undo.edits])


def _hash(text: str) -> str:
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()

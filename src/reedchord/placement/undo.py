"""Giving a score back as it was before its placements."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence

from reedchord.errors import InputError
from reedchord.musicxml.document import Score, read_score
from reedchord.musicxml.header import field_span
from reedchord.musicxml.splice import Edit, inverse, splice
from reedchord.placement.record import ScoreRecord, Undo, broken_record


def undo_of(original: str, edits: Sequence[Edit], field_edit: Edit, field: str) -> Undo:
    """Return what undoes `edits` and the field that `field_edit` adds around `field`."""
    before = field_edit.new_text.rindex(field)
    return Undo.model_construct(
        sha256=_hash(splice(original, edits)),
        before=before,
        after=len(field_edit.new_text) - before - len(field),
        replaced=original[field_edit.start : field_edit.end],
        edits=[[e.start, e.end - e.start, e.new_text] for e in inverse(edits, original)],
    )


def original_text(score: Score, record: ScoreRecord) -> str | None:
    """Return the text as it was before all placements, None where it was edited since.

    Raises InputError where the record's way back does not fit the score.
    """
    span, undo = field_span(score), record.undo
    if span is None or undo is None:
        return None
    start, end = span.start - undo.before, span.end + undo.after
    text = score.text[:start] + undo.replaced + score.text[end:]
    if _hash(text) != undo.sha256:
        return None
    edits = [Edit(int(a), int(a) + int(n), str(was)) for a, n, was in undo.edits]
    if edits and edits[-1].end > len(text):
        raise broken_record("the edits to undo leave the score")
    return splice(text, edits)


def original_score(score: Score, record: ScoreRecord) -> Score | None:
    """Return the score as it was before all placements, None where it was edited since.

    Raises InputError where the record's way back leads to no score.
    """
    text = original_text(score, record)
    if text is None:
        return None
    try:
        return read_score(score.source.with_text(text).encode())
    except InputError as error:
        raise broken_record(f"what it gives back is no score: {error.message}") from None
    except UnicodeEncodeError:
        raise broken_record(
            "what it gives back has characters that the score cannot have"
        ) from None


def _hash(text: str) -> str:
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()

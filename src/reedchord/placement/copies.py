"""Notes that carry our labels or ids where no placement is: somebody copied or moved them."""

from __future__ import annotations

from collections.abc import Sequence

from reedchord.musicxml.document import Score
from reedchord.musicxml.marked_notes import marked_notes
from reedchord.placement.found import Found, our_ids


def copies(score: Score, found: Sequence[Found]) -> list[str]:
    """Return sentences on notes that carry a label or an id of ours outside all placements.

    Somebody copied or moved them; what stood in their place is not known.
    """
    labels = {one.row.label for one in found}
    by_id = {name: one.row.label for one in found for name in our_ids(one.row)}
    ours = {id(note) for one in found for _, event in one.chain for note in event.notes}
    told: dict[str, None] = {}
    for note in marked_notes(score.parts):
        if id(note.element) in ours:
            continue
        label, colon, _ = note.footnote.partition(":")
        of = by_id.get(note.id or "")
        what = f"a copy of {label}" if colon and label in labels else of and f"a note of {of}"
        if what:
            bar = note.part.bars[note.bar_index]
            told[f"part {note.part}, bar {bar}: {what} stays as it is"] = None
    return list(told)

"""Where the placements of a score stand now, whatever was added before or taken out since."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from reedchord.musicxml.document import Bar, Part, Score
from reedchord.musicxml.note_places import NotePlace, chords_with_footnote, notes_by_id
from reedchord.placement.record import (
    PlacedRecord,
    ScoreRecord,
    no_placements,
    record_of,
    rows_still_there,
)
from reedchord.sonority import Sonority


@dataclass(frozen=True)
class StandingPlacement:
    """A placement, its sonority, its part, and the places of its notes in order."""

    row: PlacedRecord
    sonority: Sonority
    part: Part
    notes: tuple[NotePlace, ...]

    @property
    def bar(self) -> Bar:
        """The bar in which it begins."""
        return self.part.bars[self.notes[0].bar_index]

    @property
    def last_bar(self) -> Bar:
        """The bar in which the last chord tied to it stands."""
        return self.part.bars[self.notes[-1].bar_index]


def standing_placements(score: Score) -> tuple[StandingPlacement, ...]:
    """Return the placements of a score in their order.

    Raises RequestError where the score holds none.
    """
    record = record_of(score)
    rows = rows_still_there(score, record)
    found = [one for part in score.parts for one in _in_part(part, rows, record)]
    if not found:
        raise no_placements()
    return tuple(sorted(found, key=lambda one: one.row.number))


def _in_part(
    part: Part, rows: list[PlacedRecord], record: ScoreRecord
) -> Iterator[StandingPlacement]:
    """Find the notes by their ids, else chord by chord by the labels in their footnotes."""
    mine = [row for row in rows if row.wish.part == part.id]
    by_id = notes_by_id(part, {name for row in mine for name in row.ids})
    for label in dict.fromkeys(row.label for row in mine):
        same = [row for row in mine if row.label == label]
        chords = iter(chords_with_footnote(part, f"{label}:") if not by_id else ())
        for row in same:
            notes = tuple(by_id[name] for name in row.ids if name in by_id) or next(chords, ())
            if notes:
                sonority = record.sonorities[row.wish.sonority]
                yield StandingPlacement(row, sonority, part, notes)

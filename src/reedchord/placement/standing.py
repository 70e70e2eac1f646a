"""Where the placements of a score stand now, whatever was added before or taken out since."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
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
from reedchord.placement.style import Manner
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

    @property
    def words(self) -> str:
        """The place and the way of playing: `Alto Saxophone, bar 9, beat 3, slap`."""
        row = self.row
        words = f"{self.part.name or self.part.id}, bar {self.bar}, beat {row.wish.beat}"
        if row.wish.manner is not Manner.ORDINARY:
            words += f", {row.wish.manner}"
        if len(row.numbers) < len(self.sonority.tones):
            words += f", only {tones_named(row.numbers)}"
        if row.emphasised not in (None, self.sonority.emphasised_number):
            words += f", tone {row.emphasised} brought out"
        return words


def tones_named(numbers: Sequence[int]) -> str:
    """Return numbers of tones as words: `tone 2`, `tones 1, 2 and 4`."""
    *rest, last = map(str, numbers)
    return f"tones {', '.join(rest)} and {last}" if rest else f"tone {last}"


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

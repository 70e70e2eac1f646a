"""The placements that stand in a score now, each with its sonority and its notes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from reedchord.musicxml.document import Bar, Part, Score
from reedchord.musicxml.engravable import NotePlace
from reedchord.placement.found import Found, State, find_placements
from reedchord.placement.record import PlacedRecord, ScoreRecord, no_placements, record_of
from reedchord.placement.style import Manner
from reedchord.sonority import Sonority


@dataclass(frozen=True)
class StandingPlacement:
    """A placement as it stands now: its row with bar and beat of today, and its notes in order."""

    row: PlacedRecord
    sonority: Sonority
    part: Part
    notes: tuple[NotePlace, ...]
    differences: tuple[str, ...]
    """What somebody edited since, in words."""

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
        return f"{self.part.name or self.part.id}, {self.words_in_part}"

    @property
    def words_in_part(self) -> str:
        """The same without the part: `bar 9, beat 3, slap`."""
        row = self.row
        words = f"bar {self.bar}, beat {row.wish.beat}"
        if row.wish.manner is not Manner.ORDINARY:
            words += f", {row.wish.manner}"
        words += "".join(f", {way}" for way in row.wish.ways)
        if len(row.numbers) < len(self.sonority.tones):
            words += f", only {tones_named(row.numbers)}"
        if row.emphasised is not None:
            words += f", tone {row.emphasised} emphasised"
        if self.differences:
            words += f" (edited since it was placed: {'; '.join(self.differences)})"
        return words


def places_named(placements: Iterable[StandingPlacement]) -> str:
    """Return places as words, each part named once where several in it follow each other."""
    words, before = [], None
    for one in placements:
        words.append(one.words if one.part.id != before else one.words_in_part)
        before = one.part.id
    return "; ".join(words)


def tones_named(numbers: Sequence[int]) -> str:
    """Return numbers of tones as words: `tone 2`, `tones 1, 2 and 4`."""
    *rest, last = map(str, numbers)
    return f"tones {', '.join(rest)} and {last}" if rest else f"tone {last}"


def standing_placements(score: Score) -> tuple[StandingPlacement, ...]:
    """Return the placements that a score holds now, in the order of its record.

    Raises RequestError where it holds none.
    """
    record = record_of(score)
    standing = tuple(
        standing
        for found in find_placements(score, record)
        if found.state is not State.MISSING
        for standing in _standing(found, record)
    )
    if not standing:
        raise no_placements()
    return standing


def _standing(found: Found, record: ScoreRecord) -> Iterator[StandingPlacement]:
    """Yield a placement, and for a tremolo or trill the sonority that takes turns with it."""
    assert found.music is not None  # or it would be missing
    part = found.music.part
    for row, chords in zip(found.row_now().turns, found.turns, strict=True):
        if not chords:
            continue  # somebody took the turns of one of them out
        notes = tuple(
            NotePlace(part.id, index, child) for index, event in chords for child in event.children
        )
        sonority = record.sonorities[row.wish.sonority]
        yield StandingPlacement(row, sonority, part, notes, found.differences)

"""Taking single placements out of a score that was edited since they were made."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence, Set
from dataclasses import dataclass
from fractions import Fraction
from typing import NamedTuple

from reedchord.errors import InputError
from reedchord.musicxml.bar_texts import BarTexts
from reedchord.musicxml.document import Bar, Score
from reedchord.musicxml.giving_back import Former, OurMarks, give_back, without_marks, without_slurs
from reedchord.musicxml.local_divisions import local_divisions
from reedchord.musicxml.part_music import PartMusic
from reedchord.musicxml.slur_ends import SlurEnd
from reedchord.musicxml.splice import Edit, add_if_free
from reedchord.placement.former_events import (
    Chord,
    chords_of,
    former_events,
    shared_former_events,
)
from reedchord.placement.found import Found, State, still_there
from reedchord.placement.our_directions import mark_edits, words_edits
from reedchord.placement.proof import prove_untouched
from reedchord.placement.record import ID_PREFIX, ScoreRecord
from reedchord.placement.standing_slurs import LooseSlurs, StandingSlurs


@dataclass
class TakenOut:
    """Edits that take placements out, and sentences on what stays and why.

    `unslurred` are the numbers of placements that stay, and from which no slur of ours leads
    on now; `slurs` are sentences on slurs that went from placements that stay.
    """

    edits: list[Edit]
    taken: list[Found]
    left: list[str]
    slurs: tuple[str, ...]
    unslurred: frozenset[int]


def why_it_stays(found: Found, free: Set[Chord] = frozenset()) -> str | None:
    """Return why a placement cannot be taken out, None where it can.

    `free` are chords of others that are taken out with it.
    """
    if found.row.wish.as_written:
        return None  # the notes are the composer's, and only our marks go
    if found.state is State.EDITED:
        return f"{found.words()}: it stays as it is"
    if found.state is State.INTACT and former_events(found, free) is None:
        return f"{found.words()}, but the record does not hold what stood there: it stays"
    return None


def take_out(
    score: Score, record: ScoreRecord, going: Iterable[Found], every: Sequence[Found]
) -> TakenOut:
    """Return what takes intact placements out of a score; the others are named and stay.

    `every` are all that were found. A slur goes with the placement at either end, and where
    the row of the one from which it leads has it no longer.
    """
    left: list[str] = []
    able = still_there(going)
    slurs = StandingSlurs(record.placements, every)
    while True:
        # What comes back for one may need the room of others, so who stays is asked anew.
        stays = _reasons(able)
        if not stays:
            taking = _Taking(score, record, able, slurs.loosened_by(able))
            stays = taking.clashing
        if not stays:
            break
        left += stays.values()
        able = [one for one in able if one.row.number not in stays]
    out = taking.out
    out.left = [*left, *out.left]
    out.edits = [Edit(e.start, e.end, score.source.encodable(e.new_text)) for e in out.edits]
    return out


def _reasons(going: Sequence[Found]) -> dict[int, str]:
    """Return why some of the placements that are to go stay, by number."""
    giving_way = (it for it in going if it.state is State.INTACT and not it.row.wish.as_written)
    free = chords_of(giving_way)
    reasons = {one.row.number: why_it_stays(one, free) for one in going}
    return {number: reason for number, reason in reasons.items() if reason is not None}


def prove_taken_out(
    before: Score, data: bytes, after: str, edits: Sequence[Edit], taken: Sequence[Found]
) -> None:
    """Read a document anew and see that nothing outside the edits moved, nor any voice's end.

    Raises SelfCheckError, and InputError where what the record says does not fit.
    """
    bars = [one.music.part.bars[index] for one in taken if one.music for index, _ in one.chain]
    score = prove_untouched(before, data, after, edits, bars)
    music = {part.id: PartMusic(part) for part in score.parts}
    for found in taken:
        assert found.music is not None  # it stood in the score
        for index in {index for index, _ in found.chain}:
            if _ends(music[found.music.part.id], index) != found.music.bar(index).ends:
                raise InputError(
                    "record.broken",
                    f"what stood here before {found.row.label} does not fit the bar as the "
                    "score's reedchord field has it",
                    where=found.where,
                    hint="Somebody changed the field, or the bar: mend it by hand.",
                )


def _ends(music: PartMusic, index: int) -> object:
    """Return where the voices of a bar end, None where it cannot be read."""
    try:
        return music.bar(index).ends
    except InputError:
        return None


class _Taking:
    """Placements on their way out together: they share bars, slurs and divisions."""

    def __init__(
        self, score: Score, record: ScoreRecord, going: Sequence[Found], loose: LooseSlurs
    ) -> None:
        self.out = TakenOut([], [], list(loose.changed), loose.told, loose.unslurred)
        self.clashing: dict[int, str] = {}
        self._record = record
        self._bars = BarTexts(score)
        self._claimed: set[int] = set()
        self._former = shared_former_events(going)
        self._owners = {note: one for one in going for note in _notes(one)}
        self._slurs = self._offsets(loose.ends)
        self._divisions: dict[_Note, Fraction] = {}
        self._take_divisions(going)
        self._take_slurs_off_others()
        for found in going:
            self._take(found)

    def _take(self, found: Found) -> None:
        left: list[str] = []
        if not add_if_free(self.out.edits, self._edits(found, left)):
            shared = "what stands for it stands for another placement too: it stays"
            self.clashing[found.row.number] = f"{found.words()}, but {shared}"
            return
        self.out.left += left
        if found.row.divides_bar_rest:
            self.out.left.append(f"{found.where}: the multi-bar rest stays divided")
        self.out.taken.append(found)

    def _offsets(self, ends: Iterable[tuple[Bar, SlurEnd]]) -> dict[_Note, set[int]]:
        """Return where in the document loose ends of slurs stand, by their notes."""
        offsets: dict[_Note, set[int]] = {}
        for bar, end in ends:
            offset = end.offset_in(self._bars.of(bar))
            offsets.setdefault(_Note(bar, end.child), set()).add(offset)
        return offsets

    def _take_slurs_off_others(self) -> None:
        """Take loose ends of slurs off the placements that stay."""
        for note, offsets in self._slurs.items():
            if note not in self._owners:
                edit = without_slurs(self._bars.of(note.bar), note.child, offsets)
                add_if_free(self.out.edits, [edit])

    def _take_divisions(self, going: Iterable[Found]) -> None:
        """Take out divisions of ours around chords all of which go, and see what counts then."""
        stands_for: dict[tuple[Bar, Fraction | None], dict[int, tuple[Former, ...]]] = {}
        for found in going:
            assert found.music is not None  # it stands in the score
            for former in self._former[found.row.number]:
                timeline = found.music.bar(former.bar_index)
                here = stands_for.setdefault((timeline.bar, timeline.state.divisions), {})
                here |= dict.fromkeys(former.children, former.formers)
        for (bar, divisions), notes in stands_for.items():
            text = self._bars.of(bar)
            for local in local_divisions(text, divisions, notes.keys()):
                # Where the former lengths counted inside them, somebody else wrote them.
                formers = {former for child in local.notes for former in notes[child]}
                if all(former.counts_in(local.outside) for former in formers):
                    self.out.edits += local.removal(text)
                    self._divisions |= {_Note(bar, it): local.outside for it in local.notes}
        self.out.edits.sort()

    def _edits(self, found: Found, left: list[str]) -> Iterator[Edit]:
        assert found.music is not None  # it stands in the score
        assert found.row.was is not None  # or it would stay
        bars = found.music.part.bars
        for index, event in found.chain if found.row.wish.as_written else ():
            yield from without_marks(self._bars.of(bars[index]), event, self._marks([found]))
        for former in self._former[found.row.number]:
            bar = bars[former.bar_index]
            standing = (self._owners.get(_Note(bar, child)) for child in former.children)
            owners = {one.row.number: one for one in standing if one is not None}
            yield from give_back(
                self._bars.of(bar),
                former.events,
                former.formers,
                self._marks(owners.values()),
                is_divided=former.is_divided,
                divisions=self._divisions.get(_Note(bar, former.events[0].children[0])),
            )
        firsts = (chords[0] for chords in found.turns if chords)
        heads = [(self._bars.of(bars[index]), event) for index, event in firsts]
        yield from words_edits(found, heads, left, self._claimed)
        if not found.row.wish.as_written:
            chain = [(self._bars.of(bars[index]), event) for index, event in found.chain]
            yield from mark_edits(found, chain, left)

    def _marks(self, placements: Collection[Found]) -> OurMarks:
        """Return how that which hangs on the chords of placements is told to be ours."""
        footnotes: list[str] = []
        fingerings: set[str] = set()
        for row in (one.row for one in placements):
            footnotes.append(f"{row.label}:")
            names = [] if row.kept_fingering else [row.wish.sonority]
            if row.other is not None and row.wish.other is not None:
                footnotes.append(f"with {row.label}, {row.other.label}:")
                names.append(row.wish.other)
            fingerings |= {self._record.sonorities[name].fingering.short() for name in names}
        notes = {note for one in placements for note in _notes(one)}
        slurs = {offset for note in notes for offset in self._slurs.get(note, ())}
        takes_turns = any(one.row.other is not None for one in placements)
        return OurMarks(tuple(footnotes), fingerings, f"{ID_PREFIX}-", takes_turns, slurs)


class _Note(NamedTuple):
    """A note by its bar and its place among the bar's child elements."""

    bar: Bar
    child: int


def _notes(found: Found) -> Iterator[_Note]:
    assert found.music is not None  # it stands in the score
    for index, event in found.chain:
        bar = found.music.part.bars[index]
        yield from (_Note(bar, child) for child in event.children)

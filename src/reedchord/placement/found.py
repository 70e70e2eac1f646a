"""Where each recorded placement stands in the score as it is now, and whether it was edited.

Ids tell first, then the labels in the hidden footnotes, then place and pitches together.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence, Set
from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction
from typing import NamedTuple

from reedchord.errors import Where
from reedchord.musicxml.document import Score
from reedchord.musicxml.event import Event
from reedchord.musicxml.marked_notes import MarkedNote, marked_notes
from reedchord.musicxml.part_music import PartMusic
from reedchord.musicxml.timeline import BarTimeline
from reedchord.numbers_as_text import decimal_text
from reedchord.pitch import Pitch
from reedchord.placement.record import ID_PREFIX, PlacedRecord, ScoreRecord
from reedchord.placement.target import TargetKey
from reedchord.rhythm import quarters_words

Chain = tuple[tuple[int, Event], ...]


class State(StrEnum):
    """What became of a placement."""

    INTACT = "intact"
    EDITED = "edited"
    MISSING = "missing"


class ToldBy(StrEnum):
    """What a placement was found by."""

    ID = "id"
    LABEL = "label"
    POSITION = "position"


@dataclass(frozen=True)
class Found:
    """A recorded placement in the score as it is now.

    `chain` holds its chords with the index of each one's bar, and is empty where it is
    missing; `differences` say in words what was edited.
    """

    row: PlacedRecord
    state: State
    told_by: ToldBy | None = None
    music: PartMusic | None = field(default=None, compare=False)
    chain: Chain = ()
    differences: tuple[str, ...] = ()

    @property
    def where(self) -> Where:
        """Where it stands, or stood when it was placed."""
        if self.music is None:
            return Where(part=self.row.wish.part, bar=self.row.bar, beat=self.row.wish.beat)
        timeline = self.music.bar(self.chain[0][0])
        beat = timeline.simple_beat_at(self.chain[0][1].onset_quarters)
        return Where(part=str(self.music.part), bar=str(timeline.bar), beat=beat)

    @property
    def turns(self) -> tuple[Chain, ...]:
        """Its chords by sonority: its own, and those of the one that takes turns with it.

        What another program ties on to a chord belongs to that chord.
        """
        return _by_turn(self.chain, 1 if self.row.other is None else 2)

    @property
    def key(self) -> TargetKey:
        """Where its first chord stands; it must not be missing."""
        assert self.music is not None  # or it would be missing
        index, event = self.chain[0]
        grace = _number_of_grace(self.music.bar(index), event) if event.is_grace else 0
        return self.music.part.id, index, event.onset_quarters, event.voice, event.staff, grace

    def words(self) -> str:
        """Return what became of it as a sentence without its end."""
        if self.state is State.MISSING:
            return f"{self.where}: {self.row.label} is no longer there"
        what = f" ({'; '.join(self.differences)})" if self.differences else ""
        return f"{self.where}: {self.row.label} is {self.state}{what}"

    def row_now(self) -> PlacedRecord:
        """Return the row with its place and ids as they are now."""
        if self.music is None:
            return self.row
        index, event = self.chain[0]
        timeline = self.music.bar(index)
        address = {
            "part": self.music.part.id,
            "bar": f"@{index + 1}",
            "beat": timeline.beat_at(event.onset_quarters),
            "voice": event.voice,
            "staff": event.staff,
            "grace": _number_of_grace(timeline, event) if event.is_grace else None,
        }
        wish = self.row.wish.model_copy(update=address)
        there = {note.get("id") for _, link in self.chain for note in link.notes}
        update = {
            "wish": wish,
            "bar": timeline.bar.label or str(index + 1),
            "onset_quarters": str(event.onset_quarters),
            "ids": tuple(name for name in self.row.ids if name in there),
        }
        return self.row.model_copy(update=update)


def _number_of_grace(timeline: BarTimeline, grace: Event) -> int:
    """Return the number by which a placement names a grace note, 1 the first of its voice."""
    mine = [
        event
        for event in timeline.graces
        if (event.onset_quarters, event.voice, event.staff)
        == (grace.onset_quarters, grace.voice, grace.staff)
        and not event.is_cue
    ]
    return 1 + mine.index(grace)


def find_placements(score: Score, record: ScoreRecord) -> tuple[Found, ...]:
    """Return what became of each placement of a record, in the record's order."""
    search = _Search(score, record.placements)
    places = {
        **search.by_id(),
        **search.by_label(),
        **search.by_position(),
    }
    starts = {place.key for place in places.values()}
    return tuple(_found(row, places.get(row.number), starts) for row in record.placements)


def still_there(found: Iterable[Found]) -> list[Found]:
    """Return the placements that are not missing."""
    return [one for one in found if one.state is not State.MISSING]


_Key = tuple[str, int, int]
"""Part, bar and first child of a chord: no two placements are found in one."""


def _key(music: PartMusic, bar_index: int, event: Event) -> _Key:
    return music.part.id, bar_index, event.children[0]


class _Place(NamedTuple):
    told_by: ToldBy
    music: PartMusic
    bar_index: int
    event: Event

    @property
    def order(self) -> tuple[int, Fraction]:
        return self.bar_index, self.event.onset_quarters

    @property
    def key(self) -> _Key:
        return _key(self.music, self.bar_index, self.event)


class _Search:
    """The notes of a score by the ids and labels that tell of placements."""

    def __init__(self, score: Score, rows: Sequence[PlacedRecord]) -> None:
        self._music = {part.id: PartMusic(part) for part in score.parts}
        self._rows = list(rows)
        self._taken: set[_Key] = set()
        wanted_ids = {name for row in rows for name in _telling_ids(row)}
        labels = {row.label for row in rows}
        self._ids: dict[str, MarkedNote] = {}
        self._labels: dict[str, list[MarkedNote]] = {}
        for note in marked_notes(score.parts):
            if note.id in wanted_ids:
                self._ids.setdefault(str(note.id), note)
            label, colon, _ = note.footnote.partition(":")
            if colon and label in labels:
                self._labels.setdefault(label, []).append(note)

    def by_id(self) -> dict[int, _Place]:
        """Return places of rows any of whose notes still has its id."""
        places = {}
        for row in self._rows:
            hit = next((self._ids[name] for name in _telling_ids(row) if name in self._ids), None)
            place = self._place(ToldBy.ID, hit) if hit else None
            if place is not None:
                places[row.number] = self._claimed(place)
        self._rows = [row for row in self._rows if row.number not in places]
        return places

    def by_label(self) -> dict[int, _Place]:
        """Return places of rows whose label stands in a footnote that no other row claims.

        Where as many stand in a part as were placed there, their order tells; else only the
        same place with the same pitches does.
        """
        places: dict[int, _Place] = {}
        for label, hits in self._labels.items():
            told = (place for hit in hits if (place := self._place(ToldBy.LABEL, hit)))
            free = list({place.key: place for place in told}.values())
            for part_id in dict.fromkeys(place.music.part.id for place in free):
                here = sorted((p for p in free if p.music.part.id == part_id), key=_order)
                rows = [r for r in self._rows if (r.label, r.wish.part) == (label, part_id)]
                rows.sort(key=_row_order)
                if len(rows) == len(here):
                    pairs = list(zip(rows, here, strict=True))
                else:
                    pairs = [(r, p) for r in rows for p in here if _stands_as_placed(r, p)]
                for row, place in pairs:
                    if row.number not in places and place.key not in self._taken:
                        places[row.number] = self._claimed(place)
        self._rows = [row for row in self._rows if row.number not in places]
        return places

    def by_position(self) -> dict[int, _Place]:
        """Return places of rows whose chord, with the same pitches, stands where it was placed."""
        places = {}
        for row in self._rows:
            music = self._music.get(row.wish.part)
            index = _bar_index(row)
            if music is None or index >= len(music.part.bars):
                continue
            timeline = music.bar(index)
            for event in (*timeline.events, *timeline.graces):
                place = _Place(ToldBy.POSITION, music, index, event)
                if place.key not in self._taken and _stands_as_placed(row, place):
                    places[row.number] = self._claimed(place)
                    break
        return places

    def _place(self, told_by: ToldBy, note: MarkedNote) -> _Place | None:
        """Return where a note stands, None for what others have claimed."""
        music = self._music[note.part.id]
        event = note.event_in(music.bar(note.bar_index))
        place = _Place(told_by, music, note.bar_index, event)
        return None if place.key in self._taken else place

    def _claimed(self, place: _Place) -> _Place:
        self._taken.add(place.key)
        return place


def _order(place: _Place) -> tuple[int, Fraction]:
    return place.order


def _row_order(row: PlacedRecord) -> tuple[int, Fraction]:
    return _bar_index(row), Fraction(row.onset_quarters)


def _telling_ids(row: PlacedRecord) -> Sequence[str]:
    """Return the ids that tell of a row: those that the score had before only if it has no other.

    An id of the score's own also stands on the note that somebody put back.
    """
    return our_ids(row) or row.ids


def our_ids(row: PlacedRecord) -> list[str]:
    """Return the ids of its notes that we gave, not those that the score had before."""
    return [name for name in row.ids if name.startswith(f"{ID_PREFIX}-")]


def _bar_index(row: PlacedRecord) -> int:
    return int(row.wish.bar.removeprefix("@")) - 1


def _stands_as_placed(row: PlacedRecord, place: _Place) -> bool:
    return (
        place.bar_index == _bar_index(row)
        and place.event.onset_quarters == Fraction(row.onset_quarters)
        and place.event.is_grace == (row.wish.grace is not None)
        and place.event.is_pitched
        and not _differing_pitches(_wanted(row, 0), place.event)
    )


def _found(row: PlacedRecord, place: _Place | None, starts: Set[_Key]) -> Found:
    if place is None:
        return Found(row, State.MISSING)
    chain = _chain(place, row, starts)
    told = list(dict.fromkeys(_differences(row, chain)))
    length = sum((event.duration_quarters for _, event in chain), Fraction(0))
    if length != Fraction(row.duration_quarters):
        wanted = decimal_text(Fraction(row.duration_quarters))
        told.append(f"lasts {quarters_words(length)} instead of {wanted}")
    state = State.EDITED if told else State.INTACT
    return Found(row, state, place.told_by, place.music, chain, tuple(told))


def _differences(row: PlacedRecord, chain: Chain) -> Iterator[str]:
    """Yield what was edited in the chords of a placement."""
    if row.other is None:
        for index, (_, event) in enumerate(chain):
            yield from _differing_pitches(_wanted(row, index), event)
        return
    for turn, (one, chords) in enumerate(zip(row.turns, _by_turn(chain, 2), strict=True)):
        if not chords:
            yield f"{one.label} is gone"
        for _, event in chords:
            for told in _differing_pitches(_wanted(row, turn), event):
                yield told if turn == 0 else f"{one.label}: {told}"


def _by_turn(chain: Chain, count: int) -> tuple[Chain, ...]:
    """Return the chords of each of so many sonorities that take turns."""
    chords: tuple[list[tuple[int, Event]], ...] = tuple([] for _ in range(count))
    turn = -1
    for link in chain:
        turn += turn < 0 or not link[1].is_tied("stop")
        chords[turn % count].append(link)
    return tuple(map(tuple, chords))


def _wanted(row: PlacedRecord, index: int) -> Sequence[Pitch]:
    """Return the pitches that a chord of a placement should have."""
    return row.chords[min(index, len(row.chords) - 1)] if row.chords else row.pitches


def _chain(place: _Place, row: PlacedRecord, starts: Set[_Key]) -> Chain:
    """Return a chord and what goes on from it, until it lasts as long as it was placed.

    It ends before a chord where another placement starts.
    """
    length = Fraction(row.duration_quarters)
    chain = [(place.bar_index, place.event)]
    total, count = place.event.duration_quarters, 1
    while total < length:
        following = place.music.next_in_voice(*chain[-1])
        if following is None or _key(place.music, *following) in starts:
            break
        is_tied = following[1].is_tied("stop")
        # Of two that take turns the chords are counted; what is tied to one belongs to it.
        count += not is_tied
        goes_on = row.chords if row.other is None else count <= len(row.chords)
        if not (is_tied or goes_on):
            break
        chain.append(following)
        total += following[1].duration_quarters
    return tuple(chain)


def _differing_pitches(wanted: Sequence[Pitch], event: Event) -> list[str]:
    """Return what an event shows otherwise than wanted; another spelling is no difference."""
    if event.is_rest:
        return ["it is a rest now"]
    if event.is_cue:
        return ["it is a cue now"]
    if not event.is_pitched:
        return ["it has no pitch now"]
    there = Counter(pitch.cents for pitch in event.pitches)
    should = Counter(pitch.cents for pitch in wanted)
    names = {pitch.cents: pitch.printed_as_shown() for pitch in (*event.pitches, *wanted)}
    gone = [f"{names[cents]} is gone" for cents in (should - there).elements()]
    return gone + [f"{names[cents]} is new" for cents in (there - should).elements()]

"""A score as rules see it: its parts for saxophone, its placements in time, what comes before."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property

from reedchord.checks.finding import Spot
from reedchord.checks.played import Played
from reedchord.choosing.connection import Connections
from reedchord.collection import Collection
from reedchord.dynamics import Dynamic
from reedchord.musicxml.bar_contents import has_chords
from reedchord.musicxml.document import Score
from reedchord.musicxml.event import Event
from reedchord.musicxml.part_music import PartMusic
from reedchord.placement.found import Found
from reedchord.placement.record import ScoreRecord
from reedchord.saxophones import Saxophone
from reedchord.score_time.dynamic_line import DynamicLine, dynamic_line
from reedchord.score_time.sounding_notes import SoundingNote, sounding_notes
from reedchord.score_time.tempo import TempoMap
from reedchord.score_time.whole_score import WholeScore
from reedchord.sonority import Sonority
from reedchord.trials.tried import Tried


@dataclass(frozen=True)
class SaxophonePart:
    """A part for a saxophone; `member` is None where it does not tell which.

    `near` are the bars in which, or near which, a placement stands.
    """

    whole: WholeScore = field(repr=False)
    music: PartMusic = field(repr=False)
    member: Saxophone | None
    is_concert: bool
    near: frozenset[int] = field(repr=False)

    @cached_property
    def notes(self) -> tuple[SoundingNote, ...]:
        """Its notes near placements, in order of time."""
        return tuple(sounding_notes(self.whole, self.music, self.near))

    @cached_property
    def onsets(self) -> tuple[Fraction, ...]:
        """Where these notes begin, in quarters from the score's start."""
        return tuple(note.onset_quarters for note in self.notes)

    def dynamics(self, voice: str, staff: str) -> DynamicLine:
        """Return the dynamics of one of its voices."""
        if (voice, staff) not in self._dynamics:
            self._dynamics[voice, staff] = dynamic_line(self.whole, self.music, staff, voice)
        return self._dynamics[voice, staff]

    @cached_property
    def _dynamics(self) -> dict[tuple[str, str], DynamicLine]:
        return {}

    def spot(self, bar_index: int, event: Event, label: str | None = None) -> Spot:
        """Return the place of something in it."""
        timeline = self.music.bar(bar_index)
        return Spot(
            self.music.part.id,
            str(self.music.part),
            bar_index,
            str(timeline.bar),
            timeline.beat_at(event.onset_quarters),
            label,
            str(event.onset_quarters),
        )


@dataclass(frozen=True)
class WrittenChord:
    """A chord as it stands in a saxophone's part; `played` where it is a placement's."""

    part: SaxophonePart
    bar_index: int
    event: Event
    played: Played | None

    @property
    def spot(self) -> Spot:
        """Where it stands."""
        label = self.played.row.label if self.played else None
        return self.part.spot(self.bar_index, self.event, label)

    @property
    def dynamic(self) -> Dynamic | None:
        """The dynamic at its beginning, None where nobody has said."""
        onset = self.part.whole.bar_starts[self.bar_index] + self.event.onset_quarters
        return self.part.dynamics(self.event.voice, self.event.staff).dynamic(onset)

    @property
    def words(self) -> str:
        """The label, or the pitches where it has none."""
        if self.played is not None:
            return self.played.row.label
        return f"the chord {pitches_named(self.event)}"


def pitches_named(event: Event) -> str:
    """Return the pitches of a chord, lowest first."""
    return " ".join(pitch.printed() for pitch in sorted(event.pitches, key=lambda p: p.cents))


@dataclass(frozen=True)
class CheckedScore:
    """What rules look at; `gone` are placements of the record that the score lost.

    `jumps` are pairs of bars, by index, of which a repeat leads from the one to the other;
    `unclear_repeats` says why none are known where they lead nowhere.
    """

    score: Score = field(repr=False)
    whole: WholeScore = field(repr=False)
    tempo: TempoMap
    record: ScoreRecord | None
    collection: Collection | None
    parts: tuple[SaxophonePart, ...]
    placements: tuple[Played, ...]
    gone: tuple[Found, ...]
    jumps: tuple[tuple[int, int], ...]
    unclear_repeats: str | None
    tried: Mapping[str, Tried] = field(default_factory=dict)
    """What the player's set-up got from sonorities of the score, by id."""

    @cached_property
    def turns(self) -> tuple[Turn, ...]:
        """Each placement with those that its player has directly before and after it."""
        by_part: dict[str, list[Played]] = {}
        for played in self.placements:
            by_part.setdefault(played.spot.part_id or "", []).append(played)
        turns: dict[int, Turn] = {}
        for row in by_part.values():
            for before, here, after in zip([None, *row], row, [*row[1:], None], strict=False):
                turns[here.row.number] = Turn(
                    self,
                    here,
                    before if before and _follows(before, here) else None,
                    after if after and _follows(here, after) else None,
                    tuple(self._over_repeats(row, here)),
                )
        return tuple(turns[played.row.number] for played in self.placements)

    def _over_repeats(self, row: list[Played], here: Played) -> Iterator[OverRepeat]:
        """Yield what a player has before a placement when a repeat leads to it."""
        onsets = self.part(here).onsets
        for last_bar, first_bar in self.jumps:
            start, end = self.whole.bar_starts[first_bar], self.whole.bar_starts[last_bar + 1]
            begins = bisect_left(onsets, start)
            if begins == len(onsets) or onsets[begins] != here.onset_quarters:
                continue
            sounding = [one for one in row if one.onset_quarters < end]
            before = sounding[-1] if sounding else None
            if before is not None and (before.next_quarters or end) >= end:
                left = self.tempo.seconds(end) - before.end_seconds
                yield OverRepeat(before, left + here.onset_seconds - self.tempo.seconds(start))

    @cached_property
    def connections(self) -> Connections:
        """What the collection, and the records in the score, say of changes."""
        known = dict(self.collection.sonorities) if self.collection else {}
        known |= dict(self.record.sonorities) if self.record else {}
        return Connections(Collection(known, {}, "the score"))

    @cached_property
    def chords(self) -> tuple[WrittenChord, ...]:
        """Every chord in a saxophone's part, and every placement of one tone."""
        return tuple(self._chords())

    def _chords(self) -> Iterator[WrittenChord]:
        owners = {
            (played.spot.part_id, index, event.children): played
            for played in self.placements
            for index, event in played.found.chain
        }
        bars = {(part_id, index) for part_id, index, _ in owners}
        for part in self.parts:
            for bar in part.music.part.bars:
                here = (part.music.part.id, bar.index)
                if here not in bars and not has_chords(bar.element):
                    continue
                timeline = part.music.bar(bar.index)
                for event in (*timeline.events, *timeline.graces):
                    played = owners.get((*here, event.children))
                    if played or (len(event.notes) > 1 and event.is_pitched and not event.is_cue):
                        yield WrittenChord(part, bar.index, event, played)

    def first_of_each(self) -> Iterator[Played]:
        """Yield the first placement of each sonority: what is said of a record is said once."""
        told: set[str] = set()
        for here in self.placements:
            if here.sonority.id not in told:
                told.add(here.sonority.id)
                yield here

    def recorded(self, played: Played) -> Sonority:
        """Return the sonority of a placement as the score has it, whatever was tried since."""
        tried = self.tried.get(played.sonority.id)
        return tried.documented if tried else played.sonority

    def part(self, played: Played) -> SaxophonePart:
        """Return the part in which a placement stands."""
        return next(part for part in self.parts if part.music.part.id == played.spot.part_id)


def _follows(before: Played, here: Played) -> bool:
    """Whether the player has nothing between two placements but rests."""
    return before.next_quarters == here.onset_quarters


@dataclass(frozen=True)
class OverRepeat:
    """A placement from which a repeat leads to another, and the rest between the two."""

    before: Played
    rest_seconds: float


@dataclass(frozen=True)
class Turn:
    """One placement, and those of the same player directly before and after it, if any."""

    checked: CheckedScore = field(repr=False)
    here: Played
    before: Played | None
    after: Played | None
    over_repeats: tuple[OverRepeat, ...] = ()

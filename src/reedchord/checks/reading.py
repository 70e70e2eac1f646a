"""A score made ready for the rules: placements found, put in time, with dynamics and attacks."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from reedchord.checks.checked_score import CheckedScore, SaxophonePart
from reedchord.checks.played import Played
from reedchord.collection import Collection
from reedchord.errors import InputError
from reedchord.musicxml.bar_contents import has_jumps
from reedchord.musicxml.document import Score
from reedchord.placement.found import Found, State, find_placements
from reedchord.placement.record import read_record
from reedchord.placement.saxophone_of_part import is_saxophone_of_unknown_size, recognised
from reedchord.score_time.dynamic_line import DynamicLine
from reedchord.score_time.playing_order import played_bars
from reedchord.score_time.sounding_notes import Attack, SoundingNote
from reedchord.score_time.tempo import TempoMap, bar_seconds, tempo_map
from reedchord.score_time.whole_score import WholeScore, whole_score
from reedchord.sonority import Sonority
from reedchord.trials.trials import Trials
from reedchord.trials.tried import as_tried, tried_collection

NEAR_SECONDS = 16
"""More than any breath lasts, and than the rest after which a player begins anew."""


def checked_score(
    score: Score,
    collection: Collection | None = None,
    *,
    assumed_tempo: Fraction | None = None,
    trials: Trials | None = None,
) -> CheckedScore:
    """Make a score ready for the rules.

    `assumed_tempo`, in quarters per minute, holds where no tempo is marked; what `trials` say
    of a sonority goes before what is documented. Raises InputError where the score's time or
    its record cannot be read.
    """
    record = read_record(score)
    known = record.sonorities if record else {}
    every = {name: as_tried(one, trials) for name, one in known.items()} if trials else {}
    tried = {name: one for name, one in every.items() if one.trials}
    sonorities = {**known, **{name: one.sonority for name, one in tried.items()}}
    if trials and collection:
        collection = tried_collection(collection, trials).speaking
    whole = whole_score(score)
    tempo = tempo_map(whole, assumed=assumed_tempo)
    found = find_placements(score, record) if record else ()
    parts = tuple(_parts(whole, found, _Near(whole, tempo)))
    in_time = _InTime(whole, tempo, parts, sonorities)
    there = [in_time.played(one) for one in found if one.state is not State.MISSING]
    there.sort(key=lambda played: (played.onset_quarters, played.row.number))
    gone = tuple(one for one in found if one.state is State.MISSING)
    jumps, unclear = _jumps(whole) if there else ((), None)
    return CheckedScore(
        score, whole, tempo, record, collection, parts, tuple(there), gone, jumps, unclear, tried
    )


def _jumps(whole: WholeScore) -> tuple[tuple[tuple[int, int], ...], str | None]:
    """Return the bars between which repeats and the like lead on: from the one to the other.

    Where they lead nowhere there are none, and the reason.
    """
    if not has_jumps(whole.score.root):
        return (), None
    try:
        order = played_bars(whole)
    except InputError as error:
        return (), error.message
    return tuple(sorted({pair for pair in pairwise(order) if pair[1] != pair[0] + 1})), None


def _parts(whole: WholeScore, found: Iterable[Found], near: _Near) -> Iterator[SaxophonePart]:
    """Yield the parts that are for saxophones, or that somebody said are."""
    said = {one.row.wish.part: one.row.wish.saxophone for one in found}
    for music in whole.parts:
        part = music.part
        member = recognised(part) or said.get(part.id)
        if member or part.id in said or is_saxophone_of_unknown_size(part):
            bars = [
                index
                for one in found
                if one.music is not None and one.music.part.id == part.id
                for index, _ in one.chain
            ]
            yield SaxophonePart(
                whole, music, member, _is_concert(whole, part.id), frozenset(near.bars(bars))
            )


class _Near:
    """Tells which bars lie so near to others that what stands there may matter to a player."""

    def __init__(self, whole: WholeScore, tempo: TempoMap) -> None:
        self._seconds = bar_seconds(whole, tempo)

    def bars(self, indexes: Iterable[int]) -> Iterator[int]:
        """Yield bars less than the longest breath away from any of some bars."""
        for index in set(indexes):
            begin = self._seconds[index] - NEAR_SECONDS
            end = self._seconds[index + 1] + NEAR_SECONDS
            yield from range(
                max(0, bisect_right(self._seconds, begin) - 1), bisect_left(self._seconds, end)
            )


def _is_concert(whole: WholeScore, part_id: str) -> bool:
    """Whether a part's notes stand as they sound."""
    if whole.score.is_marked_concert:
        return True
    music = whole.part(part_id)
    if not music.part.bars:
        return True
    transpose = music.bar(0).opening_state.transpose()
    return transpose is None or transpose.semitones == 0


@dataclass(frozen=True)
class _Line:
    """When the notes of one voice of a part begin, and their dynamics."""

    onsets: tuple[Fraction, ...]
    dynamics: DynamicLine

    def next_onset(self, moment: Fraction) -> Fraction | None:
        """Return where the first note at or after a moment begins."""
        index = bisect_left(self.onsets, moment)
        return self.onsets[index] if index < len(self.onsets) else None


class _InTime:
    """Puts placements in time; what belongs to a whole part is read once."""

    def __init__(
        self,
        whole: WholeScore,
        tempo: TempoMap,
        parts: Iterable[SaxophonePart],
        sonorities: Mapping[str, Sonority],
    ) -> None:
        self._whole, self._tempo, self._sonorities = whole, tempo, sonorities
        self._parts = {part.music.part.id: part for part in parts}
        self._lines: dict[tuple[str, str, str], _Line] = {}
        self._begun: dict[tuple[str, int, tuple[int, ...]], SoundingNote] = {}

    def played(self, found: Found) -> Played:
        """Return a placement in time."""
        assert found.music is not None  # it is there
        bar_index, event = found.chain[0]
        part = self._parts[found.music.part.id]
        line = self._line(part, event.voice, event.staff)
        quarters = sum((link.duration_quarters for _, link in found.chain), Fraction(0))
        onset = self._whole.bar_starts[bar_index] + event.onset_quarters
        note = self._begun.get((part.music.part.id, bar_index, event.children))
        after = line.next_onset(onset + quarters)
        return Played(
            found,
            self._sonorities[found.row.wish.sonority],
            found.row.numbers,
            found.row.emphasised,
            part.spot(bar_index, event, found.row.label),
            onset,
            quarters,
            self._tempo.seconds(onset),
            self._tempo.seconds(onset + quarters),
            self._tempo.quarters_per_minute(onset),
            line.dynamics.dynamics_between(onset, onset + quarters),
            note.attack if note else Attack.TONGUED,
            note.attacks if note else 1,
            _alternates(event.first.find("notations/ornaments/tremolo")),
            after,
            None if after is None else self._tempo.seconds(after),
        )

    def _line(self, part: SaxophonePart, voice: str, staff: str) -> _Line:
        part_id = part.music.part.id
        if (part_id, voice, staff) not in self._lines:
            notes = tuple(note for note in part.notes if note.voice == voice)
            for note in notes:
                self._begun[part_id, note.bar_index, note.event.children] = note
            onsets = tuple(note.onset_quarters for note in notes)
            self._lines[part_id, voice, staff] = _Line(onsets, part.dynamics(voice, staff))
        return self._lines[part_id, voice, staff]


def _alternates(tremolo: object) -> bool:
    """Whether a tremolo is one of two notes."""
    kind = tremolo.get("type") if hasattr(tremolo, "get") else None
    return kind in ("start", "stop")

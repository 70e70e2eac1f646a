"""The chords of the saxophone parts of a score, and the text that stands beside them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from reedchord.errors import RequestError, Where
from reedchord.matching.match import Chord
from reedchord.musicxml.document import Part, Score
from reedchord.musicxml.event import Event
from reedchord.musicxml.part_music import PartMusic
from reedchord.musicxml.timeline import BarTimeline
from reedchord.placement.found import find_placements, still_there
from reedchord.placement.record import is_legend, read_record
from reedchord.placement.saxophone_of_part import PartPitch, part_pitch, recognised
from reedchord.saxophones import Saxophone

NamesOne = Callable[[Sequence[str]], bool]
"""Whether texts name a sonority: then a single note is looked at as well."""

_TEXTS_ON_NOTES = (
    "notations/technical/fingering",
    "notations/technical/other-technical",
    "lyric/text",
    "footnote",
)


@dataclass(frozen=True)
class ScoreChord:
    """A chord at its place; `grace` is its number among the grace notes of its beat, else 0."""

    part: Part
    timeline: BarTimeline
    event: Event
    grace: int
    pitch: PartPitch
    chord: Chord

    @property
    def beat(self) -> str:
        """The beat on which it begins."""
        return self.timeline.beat_at(self.event.onset_quarters)

    @property
    def where(self) -> Where:
        """Its address in words."""
        return Where(part=str(self.part), bar=str(self.timeline.bar), beat=self.beat)


def chords_of(
    score: Score,
    part_names: Sequence[str],
    saxophone: Saxophone | None,
    names_one: NamesOne,
    notes: list[str],
) -> list[ScoreChord]:
    """Return the chords of saxophone parts that are no sonorities of ours yet, in order.

    All saxophone parts are looked at where none is named; `notes` get sentences on what is
    passed over. Raises RequestError where there is no saxophone part or no chord.
    """
    parts = [score.part(name) for name in part_names] or saxophone_parts(score)
    ours = _ours(score)
    found: list[ScoreChord] = []
    for part in parts:
        try:
            found += _of_part(score, part, saxophone, names_one, ours)
        except RequestError as error:
            if part_names:
                raise
            notes.append(f"passed over: {error.at(Where(part=str(part)))}")
    if not found:
        raise _no_chords(parts, len(ours))
    return sorted(found, key=lambda one: (one.timeline.bar.index, one.event.onset_quarters))


def saxophone_parts(score: Score) -> list[Part]:
    """Return the parts for saxophones; raises RequestError where there is none."""
    parts = [part for part in score.parts if recognised(part)]
    if parts:
        return parts
    raise RequestError(
        "match.no-saxophone",
        "the score has no part that says it is for a saxophone",
        hint="Name it: --part PART --saxophone alto. There are: "
        f"{', '.join(str(part) for part in score.parts)}.",
    )


def _no_chords(parts: Sequence[Part], ours: int) -> RequestError:
    names = ", ".join(str(part) for part in parts)
    already = " but those that are sonorities of ours already" if ours else ""
    return RequestError(
        "match.no-chords",
        f"there is no chord in {names}{already}",
        hint="A sonority is written as a chord of two notes or more; a single note counts "
        "where the text beside it names a sonority or gives its fingering.",
    )


def _ours(score: Score) -> set[tuple[str, int, int]]:
    """Return the notes of placements by part, bar and their place in it."""
    record = read_record(score)
    if record is None:
        return set()
    return {
        (found.music.part.id, index, child)
        for found in still_there(find_placements(score, record))
        if found.music is not None
        for index, event in found.chain
        for child in event.children
    }


def _of_part(
    score: Score,
    part: Part,
    saxophone: Saxophone | None,
    names_one: NamesOne,
    ours: set[tuple[str, int, int]],
) -> Iterator[ScoreChord]:
    music = PartMusic(part)
    for bar in part.bars:
        timeline = music.bar(bar.index)
        for event, grace in _events(timeline):
            if (part.id, bar.index, event.children[0]) in ours or not _is_played(event):
                continue
            texts = _texts(timeline, event)
            if len(event.notes) == 1 and not (texts and names_one(texts)):
                continue
            if music.tied_into(bar.index, event) is not None and event.is_wholly_tied("stop"):
                continue
            transpose = timeline.state_at(event.onset_quarters).transpose(event.staff)
            pitch = part_pitch(score, part, transpose, saxophone)
            yield ScoreChord(part, timeline, event, grace, pitch, _chord(event, pitch, texts))


def _events(timeline: BarTimeline) -> Iterator[tuple[Event, int]]:
    """Yield events, and grace notes with their number before their beat in their voice."""
    yield from ((event, 0) for event in timeline.events)
    count: dict[object, int] = {}
    for event in timeline.graces:
        if event.is_cue:
            continue
        voice = event.onset_quarters, event.voice, event.staff
        count[voice] = count.get(voice, 0) + 1
        yield event, count[voice]


def _is_played(event: Event) -> bool:
    return not (event.is_rest or event.is_cue) and event.is_pitched


def _chord(event: Event, pitch: PartPitch, texts: Sequence[str]) -> Chord:
    member = pitch.saxophone
    shown = sorted(event.pitches, key=lambda note: note.cents)
    written = tuple(member.written(note) if pitch.is_concert else note for note in shown)
    return Chord(member, written, tuple(texts))


def _texts(timeline: BarTimeline, event: Event) -> list[str]:
    """Return words above the chord, and what stands on its notes, each once."""
    found = [
        words.text or ""
        for moment, direction in timeline.directions
        if moment == event.onset_quarters
        and direction.findtext("staff", event.staff) == event.staff
        for words in direction.iterfind("direction-type/words")
    ]
    for note in event.notes:
        found += [text.text or "" for path in _TEXTS_ON_NOTES for text in note.iterfind(path)]
    told = (text.strip() for text in found if text.strip() and not is_legend(text))
    return list(dict.fromkeys(told))

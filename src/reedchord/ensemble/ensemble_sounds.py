"""Every note of a score as it truly sounds: tones of sonorities with their cents, and the rest."""

from __future__ import annotations

from collections.abc import Iterator, Sequence, Set
from dataclasses import dataclass
from fractions import Fraction

from reedchord.errors import InputError, Where
from reedchord.musicxml.document import Part
from reedchord.pitch import Pitch
from reedchord.placement.standing import StandingPlacement
from reedchord.score_time.sounding_notes import SoundingNote, sounding_notes
from reedchord.score_time.whole_score import WholeScore

Places = dict[tuple[str, int, int], StandingPlacement]
"""Placements by part, bar and the place of each of their notes in it."""


@dataclass(frozen=True)
class Sound:
    """One note, all ties together; times in quarter notes from the score's start.

    `tone` is its number where it is a tone of the sonority of `placement`.
    """

    part: Part
    voice: str
    staff: str
    onset_quarters: Fraction
    end_quarters: Fraction
    concert: Pitch
    placement: StandingPlacement | None = None
    tone: int | None = None

    def overlaps(self, other: Sound) -> bool:
        """Whether both sound at some moment."""
        return self.onset_quarters < other.end_quarters and other.onset_quarters < self.end_quarters


def true_sounds(whole: WholeScore, standing: Sequence[StandingPlacement]) -> list[Sound]:
    """Return the notes of all parts in concert pitch that may sound with a sonority.

    These are the notes of the bars in which sonorities stand, and those that reach into such a
    bar; rests, cues and grace notes are left out. A tone of a sonority sounds as its record
    says, not as the grid of the score shows it. The two notes of a tremolo sound through both
    their lengths. Raises InputError where pitches or lengths cannot be read.
    """
    places = places_of(standing)
    bars = {place.bar_index for one in standing for place in one.notes}
    return [
        sound
        for music in whole.parts
        for note, start, end in with_tremolos(
            [note for note in sounding_notes(whole, music) if _reaches(note, bars, whole)]
        )
        for sound in sounds_of(music.part, note, start, end, places)
    ]


def _reaches(note: SoundingNote, bars: Set[int], whole: WholeScore) -> bool:
    """Whether a note sounds in one of some bars."""
    if note.bar_index in bars:
        return True
    following = note.bar_index + 1
    while following < whole.bar_count and whole.bar_starts[following] < note.end_quarters:
        if following in bars:
            return True
        following += 1
    return False


def places_of(standing: Sequence[StandingPlacement]) -> Places:
    """Return the placement of every note of a sonority."""
    return {
        (place.part, place.bar_index, place.child): one for one in standing for place in one.notes
    }


def sounds_of(
    part: Part, note: SoundingNote, start: Fraction, end: Fraction, places: Places
) -> Iterator[Sound]:
    """Yield what each note of a chord sounds from `start` to `end`, in the order of the score.

    Raises InputError where a note is a rest as well.
    """
    if len(note.event.pitches) != len(note.event.children):
        raise InputError(
            "score.no-pitch",
            "a note has a pitch and is a rest as well",
            hint="Take one of the two out.",
            where=Where(part=str(part), bar=str(part.bars[note.bar_index])),
        )
    for child, written, shown in zip(
        note.event.children, note.event.pitches, note.pitches, strict=True
    ):
        placement = places.get((note.part_id, note.bar_index, child))
        tone = _tone(placement, written) if placement else None
        concert = placement.sonority.concert(tone) if placement and tone else shown
        yield Sound(part, note.voice, note.staff, start, end, concert, placement, tone)


def _tone(placement: StandingPlacement, shown: Pitch) -> int | None:
    """Return the number of the tone that a shown pitch stands for, None where it was edited."""
    row = placement.row
    for number, pitch in zip(row.numbers, row.pitches, strict=True):
        if pitch.cents == shown.cents:
            return number
    return None


def with_tremolos(
    notes: Sequence[SoundingNote],
) -> Iterator[tuple[SoundingNote, Fraction, Fraction]]:
    """Yield notes with their spans; two that alternate share one span."""
    starts = {
        (note.voice, note.staff, note.end_quarters): note
        for note in notes
        if tremolo_type(note) == "start"
    }
    firsts: dict[int, SoundingNote] = {}
    lasts: dict[int, SoundingNote] = {}
    for note in notes:
        first = starts.get((note.voice, note.staff, note.onset_quarters))
        if first is not None and tremolo_type(note) == "stop":
            firsts[id(note)], lasts[id(first)] = first, note
    for note in notes:
        start, end = firsts.get(id(note), note), lasts.get(id(note), note)
        yield note, start.onset_quarters, end.end_quarters


def tremolo_type(note: SoundingNote) -> str | None:
    """Return MusicXML's type of a tremolo: `single`, `start`, `stop`; None where there is none."""
    sign = note.event.first.find("notations/ornaments/tremolo")
    return None if sign is None else sign.get("type")

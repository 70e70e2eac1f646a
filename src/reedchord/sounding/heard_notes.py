"""The notes of a part as they are heard: ties joined tone by tone, tremolos stroke by stroke."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from reedchord.ensemble.ensemble_sounds import Places, Sound, sounds_of, tremolo_type, with_tremolos
from reedchord.musicxml.part_music import PartMusic
from reedchord.score_time.sounding_notes import SoundingNote, sounding_notes
from reedchord.score_time.tempo import TempoMap
from reedchord.score_time.whole_score import WholeScore

UNMEASURED_STROKES_PER_SECOND = 8
"""How fast a tremolo that is not measured goes: an ordinary single tonguing (an assumption)."""
MOST_STROKES_PER_SECOND = 40

Span = tuple[Fraction, Fraction]
"""Start and end in quarter notes from the score's start."""


@dataclass(frozen=True)
class HeardNote:
    """A note with the spans in which it sounds: one, or one for each stroke of its tremolo."""

    sound: Sound
    spans: tuple[Span, ...]


def heard_notes(
    whole: WholeScore, music: PartMusic, tempo: TempoMap, places: Places
) -> list[HeardNote]:
    """Return the notes of a part in order of time; rests, cues and grace notes are left out.

    Of a chord that is tied on in part only, as where tones enter one by one, the tied notes
    go on and the others begin. Raises InputError where pitches or lengths cannot be read.
    """
    heard: list[HeardNote] = []
    last: dict[tuple[str, Fraction, Fraction], int] = {}
    for note, start, end in with_tremolos(sounding_notes(whole, music)):
        spans = _spans(note, start, end, tempo)
        sounds = sounds_of(music.part, note, start, end, places)
        for sound, element in zip(sounds, note.event.notes, strict=True):
            is_tied = any(tie.get("type") == "stop" for tie in element.iterfind("tie"))
            index = last.pop((sound.voice, sound.concert.cents, start), None)
            if is_tied and index is not None and len(spans) == len(heard[index].spans) == 1:
                heard[index] = _prolonged(heard[index], end)
            else:
                index = len(heard)
                heard.append(HeardNote(sound, spans))
            last[sound.voice, sound.concert.cents, end] = index
    return heard


def _prolonged(note: HeardNote, end: Fraction) -> HeardNote:
    sound = replace(note.sound, end_quarters=end)
    return HeardNote(sound, ((sound.onset_quarters, end),))


def _spans(note: SoundingNote, start: Fraction, end: Fraction, tempo: TempoMap) -> tuple[Span, ...]:
    """Return the strokes of a note; of two that alternate, every other one is its own."""
    if tremolo_type(note) is None:
        return ((start, end),)
    takes_turns = (note.onset_quarters, note.end_quarters) != (start, end)
    turns, turn = (2, int(note.onset_quarters > start)) if takes_turns else (1, 0)
    seconds = tempo.seconds_between(start, end)
    usual = round(seconds * UNMEASURED_STROKES_PER_SECOND / turns)
    most = round(seconds * MOST_STROKES_PER_SECOND / turns)
    count = max(1, min(note.attacks or usual, most))
    step = (end - start) / (count * turns)
    first = start + turn * step
    return tuple(
        (first + turns * stroke * step, first + (turns * stroke + 1) * step)
        for stroke in range(count)
    )

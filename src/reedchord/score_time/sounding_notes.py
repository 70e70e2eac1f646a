"""Every note as it sounds: when, how long, at which concert pitch, and how it is begun."""

from __future__ import annotations

from collections.abc import Container, Iterator, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction
from functools import cached_property
from typing import TYPE_CHECKING

from reedchord.musicxml.bar_contents import (
    has_cues,
    has_slurs_or_tremolos,
    has_ties,
    notes_with_slurs,
)
from reedchord.musicxml.bar_state import Transpose
from reedchord.musicxml.document import Bar
from reedchord.musicxml.event import Event
from reedchord.musicxml.part_music import PartMusic
from reedchord.pitch import Pitch
from reedchord.rhythm import QUARTERS_BY_TYPE
from reedchord.score_time.whole_score import WholeScore

if TYPE_CHECKING:
    from reedchord.musicxml.event import Element

_STEPS_BY_SEMITONES = (0, 1, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6)
"""Letter steps of an interval where a `<transpose>` leaves `<diatonic>` out."""

MOST_STROKES = 8


class Attack(StrEnum):
    """How a note is begun."""

    TONGUED = "tongued"
    SLURRED = "slurred"


@dataclass(frozen=True)
class SoundingNote:
    """A note or chord with all that it is tied on to; times in quarters from the score's start.

    `attacks` is how often it is begun: once, or as often as its tremolo says, of two notes or
    of one; None for a tremolo that is not measured. `transpose` leads to concert pitch.
    """

    part_id: str
    bar_index: int
    onset_quarters: Fraction
    duration_quarters: Fraction
    voice: str
    staff: str
    attack: Attack
    attacks: int | None
    transpose: Transpose | None
    event: Event = field(repr=False, compare=False)

    @cached_property
    def pitches(self) -> tuple[Pitch, ...]:
        """Its concert pitches; raises InputError where they cannot be read."""
        return tuple(_concert(self.event, self.transpose))

    @property
    def end_quarters(self) -> Fraction:
        """Where it ends."""
        return self.onset_quarters + self.duration_quarters


def sounding_notes(
    whole: WholeScore, music: PartMusic, bars: Container[int] | None = None
) -> list[SoundingNote]:
    """Return the notes of a part in order of time; rests, cues and grace notes are left out.

    `bars` are the indexes of those to read, all where it is None. Raises InputError where
    durations cannot be read.
    """
    found: list[SoundingNote] = []
    slurs, is_concert = _Slurs(), whole.score.is_marked_concert
    joined: set[tuple[int, Event]] = set()
    for bar in music.part.bars:
        if bars is not None and bar.index not in bars:
            slurs.pass_over(bar)
            continue
        is_marked, is_tied = has_slurs_or_tremolos(bar.element), has_ties(bar.element)
        may_be_cue = has_cues(bar.element)
        timeline = music.bar(bar.index)
        events = timeline.events if len(timeline.ends) == 1 else sorted(timeline.events, key=_time)
        for event in events:
            if not event.is_pitched or (may_be_cue and event.is_cue):
                continue
            attack = slurs.attack(event) if is_marked else slurs.attack_of_voice(event.voice)
            if joined and (bar.index, event) in joined:
                continue
            chain = music.tied_from(bar.index, event) if is_tied else [(bar.index, event)]
            if len(chain) > 1:
                joined.update(chain)
            attacks = _attacks(event, chain) if is_marked else 1
            transpose = None if is_concert else _transpose(music, *chain[0])
            found.append(_note(whole, music, chain, transpose, attack, attacks))
    return found


def _time(event: Event) -> tuple[Fraction, str]:
    return event.onset_quarters, event.voice


class _Slurs:
    """Which voices are under a slur."""

    def __init__(self) -> None:
        self._open: dict[str, set[str]] = {}

    def attack_of_voice(self, voice: str) -> Attack:
        """Return how a note is begun in a voice whose slurs stay as they are."""
        return Attack.SLURRED if self._open.get(voice) else Attack.TONGUED

    def attack(self, event: Event) -> Attack:
        """Return how an event is begun, and keep the slurs that it opens and closes."""
        attack = self.attack_of_voice(event.voice)
        slurs = [slur for note in event.notes for slur in note.iterfind("notations/slur")]
        self._keep(event.voice, slurs)
        return attack

    def pass_over(self, bar: Bar) -> None:
        """Keep the slurs of a bar whose notes nobody asks for."""
        for note in notes_with_slurs(bar.element):
            voice = (note.findtext("voice") or "").strip() or "1"
            self._keep(voice, list(note.iterfind("notations/slur")))

    def _keep(self, voice: str, slurs: Sequence[Element]) -> None:
        mine = self._open.setdefault(voice, set())
        for slur in slurs:
            if slur.get("type") == "stop":
                mine.discard(slur.get("number", "1"))
        for slur in slurs:
            if slur.get("type") == "start":
                mine.add(slur.get("number", "1"))


def _note(
    whole: WholeScore,
    music: PartMusic,
    chain: Sequence[tuple[int, Event]],
    transpose: Transpose | None,
    attack: Attack,
    attacks: int | None,
) -> SoundingNote:
    bar_index, event = chain[0]
    return SoundingNote(
        music.part.id,
        bar_index,
        whole.bar_starts[bar_index] + event.onset_quarters,
        event.duration_quarters if len(chain) == 1 else _quarters(chain),
        event.voice,
        event.staff,
        attack,
        attacks,
        transpose,
        event,
    )


def _transpose(music: PartMusic, bar_index: int, event: Event) -> Transpose | None:
    return music.bar(bar_index).state_at(event.onset_quarters).transpose(event.staff)


def _quarters(chain: Sequence[tuple[int, Event]]) -> Fraction:
    return sum((link.duration_quarters for _, link in chain), Fraction(0))


def _concert(event: Event, transpose: Transpose | None) -> Iterator[Pitch]:
    for pitch in event.pitches:
        yield pitch if transpose is None else concert_pitch(pitch, transpose)


def concert_pitch(written: Pitch, transpose: Transpose) -> Pitch:
    """Return what sounds where `written` stands under a `<transpose>`, spelling kept near it."""
    steps = transpose.steps
    if steps is None:
        octaves, semitones = divmod(transpose.semitones, 12)
        steps = 7 * octaves + _STEPS_BY_SEMITONES[semitones]
    return written.transposed(semitones=transpose.semitones, steps=steps)


def _attacks(event: Event, chain: Sequence[tuple[int, Event]]) -> int | None:
    """Return how often a note is begun: each stroke of a tremolo halves what its beams say.

    Of a tremolo of two notes each lasts half of what it looks, and has half of the strokes.
    """
    tremolo = event.first.find("notations/ornaments/tremolo")
    if tremolo is None:
        return 1
    if tremolo.get("type") == "unmeasured":
        return None
    strokes = (tremolo.text or "").strip()
    if not strokes.isdecimal() or not 0 < int(strokes) <= MOST_STROKES:
        return None
    beamed_quarters = min(Fraction(1), QUARTERS_BY_TYPE.get(event.first.findtext("type") or "", 1))
    stroke_quarters = beamed_quarters / 2 ** int(strokes)
    return max(1, int(_quarters(chain) / stroke_quarters))

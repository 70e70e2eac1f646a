"""How the accidentals of a bar make its later notes read."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from fractions import Fraction
from typing import NamedTuple

from reedchord.errors import InputError
from reedchord.musicxml.event import Event, pitch_of
from reedchord.musicxml.timeline import BarTimeline
from reedchord.pitch import Pitch


class Misreading(NamedTuple):
    """A note that would be read with another alteration than it has."""

    onset_quarters: Fraction
    pitch: Pitch
    read_as: Pitch


class Signed(NamedTuple):
    """Pitches that are written with accidentals at one moment of a staff."""

    onset_quarters: Fraction
    staff: str
    pitches: Sequence[Pitch]


def new_misreadings(
    timeline: BarTimeline, gone: Collection[Event], signed: Sequence[Signed]
) -> list[Misreading]:
    """Return later notes of the bar that read rightly now, and wrongly once events change.

    `gone` are events that give way, `signed` what is written with accidentals instead.
    Within a bar an accidental holds for its line or space of its staff; common practice, no
    source.
    """
    after = _misreadings(timeline, gone, signed)
    before = _misreadings(timeline, (), ()) if after else []
    return [wrong for wrong in after if wrong not in before]


def misreadings(timeline: BarTimeline) -> list[Misreading]:
    """Return the notes of a bar that read otherwise than they are written."""
    return _misreadings(timeline, (), ())


def _misreadings(
    timeline: BarTimeline, gone: Collection[Event], signed: Sequence[Signed]
) -> list[Misreading]:
    shown: dict[tuple[str, int], Fraction] = {}
    wrong = []
    stay = [event for event in timeline.events if event not in gone]
    entries: list[Event | Signed] = [*signed, *stay]
    for entry in sorted(entries, key=lambda entry: entry.onset_quarters):
        if isinstance(entry, Signed):
            shown |= {
                (entry.staff, pitch.staff_position): pitch.alteration_cents
                for pitch in entry.pitches
            }
            continue
        state = timeline.state_at(entry.onset_quarters)
        for pitch, is_signed in _noted(entry):
            place = (entry.staff, pitch.staff_position)
            if is_signed:
                shown[place] = pitch.alteration_cents
            by_key = Fraction(100 * state.key_alter(pitch.step, entry.staff))
            read_cents = shown.get(place, by_key)
            if read_cents != pitch.alteration_cents:
                read_as = Pitch(pitch.step, pitch.octave, read_cents)
                wrong.append(Misreading(entry.onset_quarters, pitch, read_as))
    return wrong


def _noted(event: Event) -> list[tuple[Pitch, bool]]:
    """Return each pitch of an event and whether it needs no accidental before it to be read."""
    noted = []
    for note in event.notes:
        if note.find("pitch") is None:
            continue
        try:
            pitch = pitch_of(note)
        except InputError:
            continue
        tied_in = any(tie.get("type") == "stop" for tie in note.iterfind("tie"))
        noted.append((pitch, tied_in or note.find("accidental") is not None))
    return noted

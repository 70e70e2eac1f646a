"""Sonorities that the composer has written out already: their notes stay, our marks are added."""

from __future__ import annotations

from reedchord.chord_spelling import SpelledTone
from reedchord.errors import RequestError
from reedchord.musicxml.event import Event
from reedchord.placement.appearance import Appearance, Sounding, wanted_tones
from reedchord.placement.plan import Placement
from reedchord.placement.style import Style
from reedchord.placement.target import Target
from reedchord.sonority import Sonority


def tones_at(placement: Placement, sonority: Sonority, style: Style, target: Target) -> Sounding:
    """Return the tones that a placement wants at its target, as the score shows them.

    Where the notes that are there stay, the lowest of them shows the lowest wanted tone and so
    on, and the cents are counted from these notes. Raises RequestError for tones that the
    sonority lacks, and where there are more or fewer notes than tones.
    """
    is_concert = target.pitch.is_concert
    wanted = wanted_tones(placement, sonority, style, is_concert=is_concert)
    if not placement.as_written:
        return wanted
    notes = sorted(target.event.pitches, key=lambda pitch: pitch.cents)
    if len(notes) != len(wanted.numbers):
        raise RequestError(
            "as-written.tones",
            f"{len(notes)} notes stand here, and {len(wanted.numbers)} tones of {sonority.id} "
            "are to be seen in them",
            hint="Name as many tones as there are notes, lowest first: tones: [1, 3].",
        )
    pitch_of = sonority.concert if is_concert else sonority.written
    tones = tuple(
        SpelledTone(note, pitch_of(number).cents - note.cents)
        for number, note in zip(wanted.numbers, notes, strict=True)
    )
    return wanted._replace(tones=tones)


def refuse_changes(placement: Placement) -> None:
    """Raise RequestError where notes that are to stay are to change all the same."""
    asked = {
        "for": placement.lasting,
        "tremolo": placement.tremolo,
        "trill": placement.trill,
        "slur": placement.slur,
        "dynamics": placement.dynamics,
        **{name.replace(" ", "-"): is_asked for name, is_asked in placement.unfolding},
    }
    changes = [name for name, is_there in asked.items() if is_there]
    if changes:
        raise RequestError(
            "as-written.changes",
            f"the notes stay as they are written, but {' and '.join(changes)} would change them",
            hint=f"Leave out {' and '.join(changes)}, or as_written.",
        )


def without_what_is_there(look: Appearance, target: Target) -> Appearance:
    """Return the marks that the target's first chord does not have already."""
    first = target.event.first
    at_start = look.at_start
    if at_start.fingering in fingerings_of(target.event):
        at_start = at_start._replace(fingering=None)
    if at_start.footnote == first.findtext("footnote"):
        at_start = at_start._replace(footnote=None)
    if at_start.words in _words_at(target):
        at_start = at_start._replace(words=None)
    return look._replace(at_start=at_start)


def has_fingering(target: Target, sonority: Sonority) -> bool:
    """Whether notes that stay have the sonority's fingering already."""
    return target.keeps_notes and sonority.fingering.short() in fingerings_of(target.event)


def fingerings_of(event: Event) -> list[str]:
    """Return the fingerings that stand at an event."""
    return [
        (fingering.text or "").strip()
        for note in event.notes
        for fingering in note.iterfind("notations/technical/fingering")
    ]


def _words_at(target: Target) -> list[str]:
    return [
        words.text or ""
        for moment, direction in target.timeline.directions
        if moment == target.onset_quarters
        for words in direction.iterfind("direction-type/words")
    ]

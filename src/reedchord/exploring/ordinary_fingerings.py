"""Ordinary fingerings of the whole written range as one table.

Common practice, no source; makers differ, above all at both ends of the range. The usual
fingering stands first, other common ones follow.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from reedchord.errors import RequestError
from reedchord.fingering import Fingering, unknown_keys
from reedchord.fingering_text import parse_fingering
from reedchord.pitch import Pitch, parse_pitch
from reedchord.saxophones import Saxophone

_ALL_DOWN = "left 1 2 3 | right 1 2 3"
_PALM = "octave | left palm D, palm E flat, palm F"

_LOWEST = (
    ("A3", ("low A | left 1 2 3, low B flat | right 1 2 3, low C",)),
    ("Bb3", ("left 1 2 3, low B flat | right 1 2 3, low C",)),
    ("B3", ("left 1 2 3, low B | right 1 2 3, low C",)),
    ("C4", ("left 1 2 3 | right 1 2 3, low C",)),
    ("C#4", ("left 1 2 3, low C sharp | right 1 2 3, low C",)),
)
_BOTH_OCTAVES = (
    ("D4", "D5", (_ALL_DOWN,)),
    ("Eb4", "Eb5", (f"{_ALL_DOWN}, E flat",)),
    ("E4", "E5", ("left 1 2 3 | right 1 2",)),
    ("F4", "F5", ("left 1 2 3 | right 1",)),
    ("F#4", "F#5", ("left 1 2 3 | right 2", "left 1 2 3 | right 1, alternate F sharp")),
    ("G4", "G5", ("left 1 2 3 | right 0",)),
    ("G#4", "G#5", ("left 1 2 3, G sharp | right 0",)),
    ("A4", "A5", ("left 1 2 | right 0",)),
    (
        "Bb4",
        "Bb5",
        (
            "left 1 2 | right side B flat",
            "left 1, bis | right 0",
            "left 1 | right 1",
            "left 1 | right 2",
        ),
    ),
    ("B4", "B5", ("left 1 | right 0",)),
    ("C5", "C6", ("left 2 | right 0", "left 1 | right side C")),
    ("C#5", "C#6", ("left 0 | right 0",)),
)
"""Notes that the octave key takes up an octave: lower name, upper name, lower fingerings."""

_HIGHEST = (
    ("D6", ("octave | left palm D | right 0",)),
    ("Eb6", ("octave | left palm D, palm E flat | right 0",)),
    (
        "E6",
        (
            "octave | left palm D, palm E flat | right side E",
            "octave | left 2 3, front F | right 0",
        ),
    ),
    ("F6", (f"{_PALM} | right side E", "octave | left 2, front F | right 0")),
    (
        "F#6",
        (
            f"{_PALM} | right side E, high F sharp",
            "octave | left 2, front F | right side B flat",
        ),
    ),
    ("G6", (f"{_PALM} | right side E, high G",)),
)


@dataclass(frozen=True)
class OrdinaryNote:
    """One written note and its ordinary fingerings, the usual one first."""

    written: Pitch
    fingerings: tuple[Fingering, ...]


def _note(name: str, texts: tuple[str, ...]) -> OrdinaryNote:
    return OrdinaryNote(parse_pitch(name), tuple(map(parse_fingering, texts)))


ORDINARY_NOTES: tuple[OrdinaryNote, ...] = (
    *(_note(name, texts) for name, texts in _LOWEST),
    *(_note(name, texts) for name, _, texts in _BOTH_OCTAVES),
    *(_note(name, tuple(f"octave | {text}" for text in texts)) for _, name, texts in _BOTH_OCTAVES),
    *(_note(name, texts) for name, texts in _HIGHEST),
)
"""Every semitone of the written range, lowest first."""


def ordinary_notes(saxophone: Saxophone) -> tuple[OrdinaryNote, ...]:
    """Return the notes of one member of the family, lowest first, with its keys alone."""
    lowest, highest = saxophone.lowest_written.cents, saxophone.highest_written.cents
    return tuple(
        OrdinaryNote(note.written, there)
        for note in ORDINARY_NOTES
        if lowest <= note.written.cents <= highest
        if (there := tuple(f for f in note.fingerings if not unknown_keys(f, saxophone.name)))
    )


def ordinary_fingering(written: Pitch, saxophone: Saxophone) -> Fingering:
    """Return the usual fingering of a written note; raises RequestError outside the range.

    Cents do not count: `G4+10` is fingered as G4.
    """
    notes = ordinary_notes(saxophone)
    nearest = min(notes, key=lambda note: abs(note.written.cents - written.cents))
    if abs(nearest.written.cents - written.cents) > Fraction(50):
        low, high = notes[0].written.printed(), notes[-1].written.printed()
        raise RequestError(
            "explore.range",
            f"{written.printed()} is no ordinary note of the {saxophone}",
            hint=f"Its written range goes from {low} to {high}.",
        )
    return nearest.fingerings[0]

"""How long each pitch of a part sounds, ties joined, as music21 reads the document."""

from __future__ import annotations

import warnings
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from truth.score_text import as_text, root_file


@dataclass(frozen=True, order=True)
class Strand:
    """One pitch from its attack to its end, in quarter notes from the part's start.

    `pitch` counts semitones at written pitch as MIDI does; a quarter tone is 1/2.
    """

    onset_quarters: Fraction
    quarters: Fraction
    pitch: Fraction


def sounding_strands(data: bytes, part_index: int = 0) -> list[Strand]:
    """Return what sounds in a part in order, every pitch of a chord for itself."""
    from music21 import converter

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        score = converter.parseData(as_text(root_file(data)), format="musicxml")
        part = score.parts[part_index]
        found = sorted(part.recurse().notes, key=lambda note: note.getOffsetInHierarchy(part))
        strands: list[Strand] = []
        held: dict[Fraction, Strand] = {}
        for note in found:
            onset = _exact(note.getOffsetInHierarchy(part))
            for one in note.notes if note.isChord else [note]:
                pitch = Fraction(one.pitch.ps)
                tie = None if one.tie is None else one.tie.type
                before = held.pop(pitch, None) if tie in ("stop", "continue") else None
                strand = Strand(onset, _exact(note.quarterLength), pitch)
                if before is not None:
                    strand = Strand(before.onset_quarters, before.quarters + strand.quarters, pitch)
                if tie in ("start", "continue"):
                    held[pitch] = strand
                else:
                    strands.append(strand)
        return sorted([*strands, *held.values()])


def _exact(length: Any) -> Fraction:
    return Fraction(length).limit_denominator(100_000)

"""Concert pitches as music21 reads them.

Trust it for semitones and quarter tones: it rounds finer alterations when it transposes.
"""

from __future__ import annotations

import functools
import re
import warnings
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from truth.score_text import as_text, root_file

_STAFF = re.compile(r"-Staff\d+\Z")


@dataclass(frozen=True)
class Sounding:
    """One note or chord: where in its bar it begins, and what sounds, from low to high.

    `pitches` count semitones as MIDI does (middle C is 60), a quarter tone is 1/2.
    """

    onset_quarters: Fraction
    pitches: tuple[Fraction, ...]


def sounding_pitches(data: bytes, part_index: int, bar_index: int) -> list[Sounding]:
    """Return the notes and chords of one bar at concert pitch, in order; rests are left out.

    Indices count from 0. music21 makes one part of each staff of a keyboard part.
    """
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return _sounding(_bars(data, part_index)[bar_index])


@functools.lru_cache(maxsize=8)
def _bars(data: bytes, part_index: int) -> list[Any]:
    from music21 import converter, stream

    score = converter.parseData(as_text(root_file(data)), format="musicxml")
    part = score.parts[part_index].toSoundingPitch()
    return list(part.getElementsByClass(stream.Measure))


def sounding_by_part(data: bytes) -> dict[str, list[list[Sounding]]]:
    """Return what sounds in each bar of each part, the staves of a keyboard part together.

    Parts go by their ids. Raises whatever music21 raises on a score that it cannot read.
    """
    from music21 import converter, stream

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        score = converter.parseData(as_text(root_file(data)), format="musicxml")
        heard: dict[str, list[list[Sounding]]] = {}
        for part in score.parts:
            bars = part.toSoundingPitch().getElementsByClass(stream.Measure)
            known = heard.setdefault(_xml_id(part), [])
            for index, bar in enumerate(bars):
                known += [[]] * (index + 1 - len(known))
                known[index] = [*known[index], *_sounding(bar)]
        return heard


def _xml_id(part: Any) -> str:
    """Return the id that a part has in the file: music21 keeps it as the first of its groups."""
    of_staff, is_staff = _STAFF.subn("", str(part.id))
    return of_staff if is_staff or not part.groups else str(part.groups[0])


def _sounding(bar: Any) -> list[Sounding]:
    return [
        Sounding(
            Fraction(note.getOffsetInHierarchy(bar)).limit_denominator(100_000),
            tuple(sorted(Fraction(pitch.ps) for pitch in note.pitches)),
        )
        for note in bar.recurse().notes
        if not note.duration.isGrace
    ]

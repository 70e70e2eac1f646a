"""A sonority as a music21 chord, cents kept; music21 is imported only here, on demand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reedchord.sonority import Sonority

if TYPE_CHECKING:
    from music21.chord import Chord

_ACCIDENTALS = {-200: "--", -100: "-", 0: "", 100: "#", 200: "##"}


def to_music21(sonority: Sonority, *, concert: bool = False) -> Chord:
    """Return a chord of all tones, lowest first, at written or at concert pitch.

    Each music21 pitch has its conventional accidental and the rest as a microtone in cents.
    """
    from music21.chord import Chord
    from music21.pitch import Microtone, Pitch

    tones = []
    for pitch in sonority.concert_pitches if concert else sonority.written_pitches:
        tone = Pitch(f"{pitch.step}{_ACCIDENTALS[pitch.accidental_cents]}{pitch.octave}")
        tone.microtone = Microtone(float(pitch.deviation_cents))
        tones.append(tone)
    return Chord(tones)

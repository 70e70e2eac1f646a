"""Sonorities to music21 chords and back, cents kept."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Any

from reedchord.data_text import DataText
from reedchord.errors import InputError, ReedchordError, raise_all
from reedchord.pitch import Pitch
from reedchord.sonority import Sonority
from reedchord.validation import validated

if TYPE_CHECKING:
    from music21.chord import Chord

_ACCIDENTALS = {-200: "--", -100: "-", 0: "", 100: "#", 200: "##"}
_STEPS_IN_A_CENT = 10_000
"""music21 counts in floating point: what it says is rounded to so many parts of a cent."""


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


def pitches_from_music21(chord: Chord) -> tuple[Pitch, ...]:
    """Return the pitches of a music21 chord, lowest first, as they are spelled, cents kept.

    Quarter-tone accidentals and microtones both count, to a ten-thousandth of a cent.
    Raises InputError where the chord is empty, or a pitch has no octave or cannot be spelled.
    """
    pitches = []
    for tone in chord.pitches:
        if tone.octave is None:
            raise InputError(
                "music21.no-octave",
                f"the pitch {tone.name} has no octave",
                hint="Give each pitch one, as in pitch.Pitch('F#4').",
            )
        cents = 100 * tone.alter  # microtone and all
        exact = Fraction(round(cents * _STEPS_IN_A_CENT), _STEPS_IN_A_CENT)
        pitches.append(Pitch(tone.step, tone.octave, exact))
    if not pitches:
        raise InputError("music21.empty", "the chord has no pitches")
    return tuple(sorted(pitches, key=lambda pitch: pitch.cents))


def from_music21(chord: Chord, *, concert: bool = False, **fields: Any) -> Sonority:
    """Return a sonority with the tones of a music21 chord, at written or at concert pitch.

    `fields` are those of the record besides its tones, as a collection writes them:
    `id="heron", saxophone="alto", fingering="left 1 2 | right 1", evidence="tried", …`.
    Raises InputError, or SeveralErrors, for what makes no sonority.
    """
    kind = "concert" if concert else "written"
    tones = [{kind: str(pitch)} for pitch in pitches_from_music21(chord)]
    errors: list[ReedchordError] = []
    record = validated(Sonority, DataText({**fields, "tones": tones}), (), "", errors)
    raise_all(errors)
    assert record is not None  # or there would have been errors
    return record

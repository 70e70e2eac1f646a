"""Pitches as partitura reads them. It knows whole semitones only and refuses quarter tones."""

from __future__ import annotations

import io
import warnings

from truth.score_text import root_file


def partitura_pitches(data: bytes) -> list[tuple[str, int | None, int]]:
    """Return step, alter (None where the file has none) and octave of every note.

    Written pitches, part by part, by onset; the notes of one onset from low to high.
    """
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import partitura

        score = partitura.load_musicxml(io.BytesIO(root_file(data)))
        return [
            (note.step, note.alter, note.octave)
            for part in score.parts
            for note in sorted(part.notes, key=lambda note: (note.start.t, note.midi_pitch))
        ]

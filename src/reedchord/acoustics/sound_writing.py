"""Samples as the bytes of a sound file, 16 bits a sample."""

from __future__ import annotations

import io
from enum import StrEnum

from reedchord.acoustics.synthesis import RATE_HZ, Samples


class SoundFormat(StrEnum):
    """A format of sound files, by the name that libsndfile gives it."""

    WAV = "WAV"
    FLAC = "FLAC"


def sound_bytes(samples: Samples, kind: SoundFormat, *, rate_hz: int = RATE_HZ) -> bytes:
    """Return mono samples from -1 to 1 as a file; the same samples give the same bytes."""
    import soundfile

    stream = io.BytesIO()
    soundfile.write(stream, samples, rate_hz, format=str(kind), subtype="PCM_16")
    return stream.getvalue()

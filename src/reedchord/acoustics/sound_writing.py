"""Samples as the bytes of a sound file, 16 bits a sample."""

from __future__ import annotations

import io
from enum import StrEnum

import numpy as np

from reedchord.acoustics.synthesis import RATE_HZ, Samples

_FULL_SCALE = 2**15 - 1


class SoundFormat(StrEnum):
    """A format of sound files, by the name that libsndfile gives it."""

    WAV = "WAV"
    FLAC = "FLAC"


def sound_bytes(samples: Samples, kind: SoundFormat, *, rate_hz: int = RATE_HZ) -> bytes:
    """Return mono samples from -1 to 1 as a file; the same samples give the same bytes."""
    import soundfile

    stream = io.BytesIO()
    # libsndfile itself rounds otherwise for WAV than for FLAC.
    whole = np.rint(samples * _FULL_SCALE).astype(np.int16)
    soundfile.write(stream, whole, rate_hz, format=str(kind), subtype="PCM_16")
    return stream.getvalue()

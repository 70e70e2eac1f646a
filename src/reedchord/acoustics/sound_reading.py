"""Sound files as samples, and what is wrong with them before anything is measured."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np

from reedchord.acoustics.spectrum import Reals
from reedchord.errors import InputError, RequestError, Where
from reedchord.input_files import missing

LONGEST_SECONDS = 60.0
SHORTEST_SECONDS = 0.1
_OPPOSITE = -0.5
_STEP = 0.5 / 32_768
"""Half a step of 16 bits: samples that near to the peak are at it."""
_CLIPPED_RUN = 3
_CLIPPED_RUNS = 2


@dataclass(frozen=True)
class Sound:
    """One take: mono samples from -1 to 1, and what was found out while reading it."""

    name: str
    samples: Reals
    rate_hz: int
    channels: int
    clipped_runs: int = 0
    is_one_channel_left_out: bool = False

    @property
    def seconds(self) -> float:
        """How long it lasts."""
        return len(self.samples) / self.rate_hz


def read_sound(path: Path, *, from_seconds: float = 0.0, to_seconds: float | None = None) -> Sound:
    """Read WAV, FLAC or OGG, all of it or a part; raises InputError for what is no sound.

    Raises RequestError where the part is too long or too short to be measured.
    """
    import soundfile

    place = Where(path=str(path))
    if not path.exists():
        raise missing(path)
    if path.is_dir():
        raise InputError("take.unreadable", "this is a folder", where=place)
    try:
        with soundfile.SoundFile(path) as file:
            rate_hz, whole = file.samplerate, file.frames / file.samplerate
            start, end = _part(whole, from_seconds, to_seconds, place)
            file.seek(round(start * rate_hz))
            read = file.read(round((end - start) * rate_hz), dtype="float64", always_2d=True)
    except soundfile.LibsndfileError as error:
        raise InputError(
            "take.no-sound",
            f"this cannot be read as sound: {str(error).rpartition(': ')[2]}",
            hint="WAV, FLAC and OGG are read; export the recording as one of them.",
            where=place,
        ) from None
    # Files of floating-point numbers may hold what is none; such a moment is silent.
    read = np.nan_to_num(np.asarray(read, dtype=np.float64), posinf=0.0, neginf=0.0)
    samples, is_left_out = _mono(read)
    return Sound(path.name, samples, rate_hz, read.shape[1], _clipped_runs(read), is_left_out)


def _part(
    whole: float, from_seconds: float, to_seconds: float | None, place: Where
) -> tuple[float, float]:
    """Return where a part begins and ends; raises RequestError where nobody can measure it."""
    end = whole if to_seconds is None else min(to_seconds, whole)
    lasting = end - from_seconds
    if lasting < SHORTEST_SECONDS:
        raise RequestError(
            "take.too-short",
            f"there are {max(lasting, 0):.2f} s of sound, too short to tell any pitch",
            hint=f"Hold the sound: {SHORTEST_SECONDS} s are the least, 2 s are good.",
            where=place,
        )
    if lasting > LONGEST_SECONDS:
        raise RequestError(
            "take.too-long",
            f"there are {lasting:.0f} s of sound, and {LONGEST_SECONDS:.0f} s are the most",
            hint="Choose a part: --from 12 --to 20, in seconds.",
            where=place,
        )
    return from_seconds, end


def _mono(read: Reals) -> tuple[Reals, bool]:
    """Return the mean of the channels; the first alone where they would cancel each other."""
    if read.shape[1] == 2:
        left, right = read[:, 0], read[:, 1]
        size = float(np.sqrt(np.sum(left**2) * np.sum(right**2)))
        if size and float(np.sum(left * right)) / size < _OPPOSITE:
            return left, True
    return np.asarray(np.mean(read, axis=1), dtype=np.float64), False


def _clipped_runs(read: Reals) -> int:
    """Return how often samples stay at the peak, as when a microphone input is overdriven."""
    runs = 0
    for channel in np.abs(read).T:
        peak = float(np.max(channel, initial=0.0))
        if peak < 0.1:
            continue
        at_peak = np.concatenate([[False], channel >= peak - _STEP, [False]])
        edges = np.flatnonzero(at_peak[1:] != at_peak[:-1])
        lengths = edges[1::2] - edges[::2]
        found = int(np.count_nonzero(lengths >= _CLIPPED_RUN))
        runs += found if found >= _CLIPPED_RUNS else 0
    return runs

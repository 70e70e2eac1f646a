"""What is wrong or doubtful about a take, and what can be said all the same."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from reedchord.acoustics.sound_reading import Sound
from reedchord.acoustics.spectrum import WINDOW_SECONDS, Reals
from reedchord.measuring.measurement import Measurement
from reedchord.saxophones import Saxophone

SILENT_DB = -65.0
NOISY_DB, VERY_NOISY_DB = 10.0, 3.0
NEAR_CENTS = 60.0
_MAINS_HZ = (50.0, 60.0, 100.0, 120.0)
_MAINS_CENTS = 12.0
_OF_PEAK_DB = -25.0
_LOW_CENTS = 60.0


def remarks(sound: Sound, found: Measurement, window_seconds: float) -> tuple[str, ...]:
    """Return sentences on a take, the gravest first."""
    return tuple(
        sentence
        for rule in (_silence, _clipping, _shortness, _noise, _near, _channels, _low_rate)
        for sentence in rule(sound, found, window_seconds)
    )


def _silence(sound: Sound, found: Measurement, _: float) -> Iterator[str]:
    # About its mean: a constant voltage is silent too.
    level = 20 * np.log10(max(float(np.std(sound.samples)), 1e-10))
    if found.tones:
        return
    if level < SILENT_DB:
        yield "the take is silent: nothing can be measured; is this the right file, or channel?"
    else:
        yield (
            "no tone stands out of the noise: nothing can be said about pitch; record nearer, "
            "in a quieter room"
        )


def _clipping(sound: Sound, _: Measurement, __: float) -> Iterator[str]:
    if sound.clipped_runs:
        yield (
            f"the take is clipped at {sound.clipped_runs} places: the less of it is, the "
            "surer are pitches; levels, presence and entries do not hold, and tones, low ones "
            "above all, may be of its own making; "
            "record again at a lower input level"
        )


def _shortness(sound: Sound, _: Measurement, window_seconds: float) -> Iterator[str]:
    if window_seconds < WINDOW_SECONDS:
        apart_hz = 3 / window_seconds
        yield (
            f"the take lasts {sound.seconds:.2f} s only: tones nearer than about {apart_hz:.0f} Hz "
            "to each other cannot be told apart, low ones least; hold the sound for 2 s"
        )


def _noise(_: Sound, found: Measurement, __: float) -> Iterator[str]:
    ratio = found.signal_to_noise_db
    if ratio is None or ratio >= NOISY_DB:
        return
    lost = "their pitches hold, but a faint tone may be missing"
    if ratio < VERY_NOISY_DB:
        lost = "only strong tones can be trusted, and faint ones are missing"
    yield f"noise lies only {max(0, round(ratio))} dB below the tones: {lost}"


def _near(_: Sound, found: Measurement, __: float) -> Iterator[str]:
    for low, high in pairwise(found.tones):
        apart = 1200 * float(np.log2(high.frequency_hz / low.frequency_hz))
        if apart < NEAR_CENTS:
            yield (
                f"tones {low.number} and {high.number} lie {apart:.0f} cents apart: one tone with "
                "vibrato, or two that beat; hold it straight to tell"
            )


def _channels(sound: Sound, _: Measurement, __: float) -> Iterator[str]:
    if sound.is_one_channel_left_out:
        yield (
            "the two channels are turned against each other and would cancel: only the left one "
            "was measured"
        )


def _low_rate(sound: Sound, _: Measurement, __: float) -> Iterator[str]:
    if sound.rate_hz < 16_000:
        yield f"at {sound.rate_hz} samples a second nothing above {sound.rate_hz // 2} Hz is heard"


def lowest_hz(saxophone: Saxophone | None, a4_hz: float) -> float:
    """Return the frequency of the lowest note, 0 without a saxophone."""
    return saxophone.concert(saxophone.lowest_written).hz(a4_hz) if saxophone else 0.0


def doubt_about(
    frequency_hz: float, lowest_hz: float, is_heard: NDArray[np.bool_], total: Reals
) -> str | None:
    """Return why a proposed tone may be none, None where there is no such reason."""
    is_below = frequency_hz < lowest_hz * 2 ** (-_LOW_CENTS / 1200)
    for mains_hz in _MAINS_HZ:
        near = abs(1200 * np.log2(frequency_hz / mains_hz)) < _MAINS_CENTS
        if near and (is_below or _sounds_in_pauses(is_heard, total)):
            return (
                f"hum of the mains, at {mains_hz:.0f} Hz? It counts neither in loudness and "
                "entries nor in --choose all"
            )
    if is_below:
        return "below the lowest note of the saxophone: the room, or a difference tone?"
    return None


def _sounds_in_pauses(is_heard: NDArray[np.bool_], total: Reals) -> bool:
    """Tell whether a tone goes on where the take is soft."""
    soft = total < np.max(total) * 10 ** (_OF_PEAK_DB / 10)
    # Frames half outside the take are soft for another reason.
    soft[:2] = soft[-2:] = False
    return bool(np.sum(soft) >= 3 and np.mean(is_heard[soft]) > 0.8)

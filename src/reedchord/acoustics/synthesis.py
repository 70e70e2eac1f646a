"""Tones as sound: partials, breath and attack added up; a sketch for the ear, not a saxophone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Samples = NDArray[np.float64]

RATE_HZ = 44_100
LOUDEST = 10 ** (-12 / 20)
"""Peak of what is rendered: 12 dB below full scale, so that playback starts low."""

_SHARED_DRIFT_CENTS = 3.0
_OWN_DRIFT_CENTS = 1.0
_DRIFT_HZ = 4.0
"""How fast pitch wanders: slow enough to be no vibrato."""
_BREATH_CENTRE_HZ = 2_500.0
_BREATH_WIDTH_OCTAVES = 1.0
_RELEASE_SECONDS = 0.06
_ATTACK_STRETCH = 0.08
"""By how much longer each higher partial takes to come in."""


@dataclass(frozen=True)
class Timbre:
    """How a tone is made: partials that fall by so many dB each, its attack, its breath."""

    partials: int = 10
    fall_db: float = 4.5
    attack_seconds: float = 0.06
    decay_seconds: float | None = None
    """After which it has lost 60 dB; None holds it."""
    breath_db: float = -32.0
    burst_db: float = -18.0
    """Noise in the first moments, against the tone's own level."""


@dataclass(frozen=True)
class SoundedTone:
    """A tone with its frequency, its time and its level against the other tones."""

    frequency_hz: float
    onset_seconds: float
    duration_seconds: float
    level_db: float
    timbre: Timbre = Timbre()

    @property
    def end_seconds(self) -> float:
        """When it has died away."""
        return self.onset_seconds + self.duration_seconds + _RELEASE_SECONDS


def rendered(tones: Sequence[SoundedTone], *, rate_hz: int = RATE_HZ, seed: int = 0) -> Samples:
    """Return tones added up as mono samples from -1 to 1, their peak at `LOUDEST`.

    The same tones and seed give the same samples. All tones of one piece drift together, as
    one breath carries them, and each a little by itself. No tones give no samples.
    """
    end_seconds = max((tone.end_seconds for tone in tones), default=0.0)
    whole = np.zeros(int(np.ceil(end_seconds * rate_hz)))
    chance = np.random.default_rng(seed)
    shared = _drift(len(whole), rate_hz, _SHARED_DRIFT_CENTS, chance)
    for tone in tones:
        start = round(tone.onset_seconds * rate_hz)
        length = min(len(whole) - start, round((tone.end_seconds - tone.onset_seconds) * rate_hz))
        if length > 0:
            drift = shared[start : start + length]
            whole[start : start + length] += _tone(tone, drift, rate_hz, chance)
    peak = float(np.max(np.abs(whole), initial=0.0))
    return whole * (LOUDEST / peak) if peak else whole


def _tone(
    tone: SoundedTone, drift_cents: Samples, rate_hz: int, chance: np.random.Generator
) -> Samples:
    timbre, length = tone.timbre, len(drift_cents)
    seconds = np.arange(length) / rate_hz
    cents = drift_cents + _drift(length, rate_hz, _OWN_DRIFT_CENTS, chance)
    turns = np.cumsum(tone.frequency_hz * 2 ** (cents / 1200)) / rate_hz
    made = np.zeros(length)
    for number in range(1, timbre.partials + 1):
        if number * tone.frequency_hz > rate_hz / 2.2:
            break
        rising = timbre.attack_seconds * (1 + _ATTACK_STRETCH * (number - 1))
        level = _gain(-timbre.fall_db * (number - 1))
        phase = chance.uniform()
        made += level * _rise(seconds, rising) * np.sin(2 * np.pi * (number * turns + phase))
    breath = _breath(length, rate_hz, chance)
    burst = np.exp(-seconds / max(timbre.attack_seconds, 0.01))
    made += breath * (_gain(timbre.breath_db) + _gain(timbre.burst_db) * burst)
    return made * _gain(tone.level_db) * _shape(seconds, tone)


def _shape(seconds: Samples, tone: SoundedTone) -> Samples:
    """Return what fades a tone at its end, and lets it die away where its timbre says so."""
    release = np.clip((seconds - tone.duration_seconds) / _RELEASE_SECONDS, 0, 1)
    shape = 0.5 + 0.5 * np.cos(np.pi * release)
    if tone.timbre.decay_seconds is not None:
        shape = shape * 10 ** (-3 * seconds / tone.timbre.decay_seconds)
    return np.asarray(shape, dtype=np.float64)


def _rise(seconds: Samples, rising_seconds: float) -> Samples:
    return np.asarray(0.5 - 0.5 * np.cos(np.pi * np.clip(seconds / rising_seconds, 0, 1)))


def _gain(level_db: float) -> float:
    return float(10 ** (level_db / 20))


def _drift(length: int, rate_hz: int, cents: float, chance: np.random.Generator) -> Samples:
    """Return a slow random wander with this standard deviation, in cents, about nothing."""
    points = max(4, int(np.ceil(length / rate_hz * _DRIFT_HZ)) + 2)
    steps = chance.normal(0.0, cents / 2, points)
    steps -= np.mean(steps)
    places = np.arange(length) / rate_hz * _DRIFT_HZ
    return np.interp(places, np.arange(points), steps)


def _breath(length: int, rate_hz: int, chance: np.random.Generator) -> Samples:
    """Return noise in a band about 2.5 kHz, its loudest moment 1."""
    spectrum = np.fft.rfft(chance.normal(size=length))
    frequencies = np.fft.rfftfreq(length, 1 / rate_hz)
    octaves = np.log2(np.maximum(frequencies, 1.0) / _BREATH_CENTRE_HZ)
    noise = np.fft.irfft(spectrum * np.exp(-((octaves / _BREATH_WIDTH_OCTAVES) ** 2)), length)
    return np.asarray(noise / max(float(np.max(np.abs(noise), initial=0.0)), 1e-12))

"""Tones as sound: partials, breath and attack added up; a sketch for the ear, not a saxophone."""

from __future__ import annotations

import math
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
_BREATH_SAMPLES = 2**18
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
    breath_db: float | None = -32.0
    """Level of the breath against the tone's own; None for a tone without breath."""
    burst_db: float = -18.0
    """The same in the first moments."""


@dataclass(frozen=True)
class SoundedTone:
    """A tone with its frequency, its time and its level against the other tones.

    `course` are (seconds after the onset, dB more or less than `level_db`), between which the
    level goes evenly; none keeps it as it is.
    """

    frequency_hz: float
    onset_seconds: float
    duration_seconds: float
    level_db: float
    timbre: Timbre = Timbre()
    course: tuple[tuple[float, float], ...] = ()

    @property
    def end_seconds(self) -> float:
        """When it has died away."""
        return self.onset_seconds + self.duration_seconds + _RELEASE_SECONDS


def rendered(
    tones: Sequence[SoundedTone],
    *,
    peak: float = LOUDEST,
    rate_hz: int = RATE_HZ,
    seed: int = 0,
) -> Samples:
    """Return tones added up as mono samples, the largest of them at `peak`, 1 being full scale.

    The same tones and seed give the same samples. All tones of one piece drift together, so
    that they beat as their frequencies say, and each a little by itself. No tones give no
    samples.
    """
    end_seconds = max((tone.end_seconds for tone in tones), default=0.0)
    whole = np.zeros(int(np.ceil(end_seconds * rate_hz)))
    chance = np.random.default_rng(seed)
    shared = _drift(len(whole), rate_hz, _SHARED_DRIFT_CENTS, chance)
    breath = _breath(rate_hz, chance)
    for tone in tones:
        start = round(tone.onset_seconds * rate_hz)
        length = min(len(whole) - start, round((tone.end_seconds - tone.onset_seconds) * rate_hz))
        if length > 0:
            drift = shared[start : start + length]
            made = _partials(tone, drift, rate_hz, chance)
            if tone.timbre.breath_db is not None:
                made += _noise(tone.timbre, tone.timbre.breath_db, breath, start, length, rate_hz)
            whole[start : start + length] += made * _shape(np.arange(length) / rate_hz, tone)
    largest = float(np.max(np.abs(whole), initial=0.0))
    return whole * (peak / largest) if largest else whole


def _partials(
    tone: SoundedTone, drift_cents: Samples, rate_hz: int, chance: np.random.Generator
) -> Samples:
    """Add up the partials, each the product of the one below it and the first."""
    timbre, length = tone.timbre, len(drift_cents)
    cents = drift_cents + _drift(length, rate_hz, _OWN_DRIFT_CENTS, chance)
    turns = np.cumsum(tone.frequency_hz * 2 ** (cents / 1200)) / rate_hz
    first = np.exp(2j * np.pi * turns)
    turning = np.ones_like(first)
    made = np.zeros(length)
    for number in range(1, timbre.partials + 1):
        if number * tone.frequency_hz > rate_hz / 2.2:
            break
        turning *= first
        phase = np.exp(2j * np.pi * chance.uniform())
        partial = turning.real * phase.imag + turning.imag * phase.real
        rising = timbre.attack_seconds * (1 + _ATTACK_STRETCH * (number - 1))
        head = min(length, math.ceil(rising * rate_hz))
        partial[:head] *= 0.5 - 0.5 * np.cos(np.pi * np.arange(head) / (rising * rate_hz))
        made += _gain(-timbre.fall_db * (number - 1)) * partial
    return made


def _noise(
    timbre: Timbre, breath_db: float, breath: Samples, start: int, length: int, rate_hz: int
) -> Samples:
    """Return the breath of a tone: strongest in its first moments."""
    places = np.arange(length)
    burst = np.exp(-places / (max(timbre.attack_seconds, 0.01) * rate_hz))
    return np.asarray(
        breath[(start + places) % len(breath)] * (_gain(breath_db) + _gain(timbre.burst_db) * burst)
    )


def _shape(seconds: Samples, tone: SoundedTone) -> Samples:
    """Return the gain at each moment: level and course, dying away, and the end."""
    release = np.clip((seconds - tone.duration_seconds) / _RELEASE_SECONDS, 0, 1)
    shape = 0.5 + 0.5 * np.cos(np.pi * release)
    if tone.timbre.decay_seconds is not None:
        shape = shape * 10 ** (-3 * seconds / tone.timbre.decay_seconds)
    if tone.course:
        moments, levels_db = zip(*tone.course, strict=True)
        shape = shape * 10 ** (np.interp(seconds, moments, levels_db) / 20)
    return np.asarray(shape * _gain(tone.level_db), dtype=np.float64)


def _gain(level_db: float) -> float:
    return float(10 ** (level_db / 20))


def _drift(length: int, rate_hz: int, cents: float, chance: np.random.Generator) -> Samples:
    """Return a slow random wander of up to about so many cents, none in the mean."""
    points = max(4, int(np.ceil(length / rate_hz * _DRIFT_HZ)) + 2)
    steps = chance.normal(0.0, cents / 2, points)
    steps -= np.mean(steps)
    places = np.arange(length) / rate_hz * _DRIFT_HZ
    return np.interp(places, np.arange(points), steps)


def _breath(rate_hz: int, chance: np.random.Generator) -> Samples:
    """Return noise in a band about 2.5 kHz, its loudest moment 1; its end fits its start."""
    spectrum = np.fft.rfft(chance.normal(size=_BREATH_SAMPLES))
    frequencies = np.fft.rfftfreq(_BREATH_SAMPLES, 1 / rate_hz)
    octaves = np.log2(np.maximum(frequencies, 1.0) / _BREATH_CENTRE_HZ)
    noise = np.fft.irfft(spectrum * np.exp(-((octaves / _BREATH_WIDTH_OCTAVES) ** 2)))
    return np.asarray(noise / np.max(np.abs(noise)))

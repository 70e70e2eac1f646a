"""Partials drawn together to tones: one low tone stays one, two stay two."""

import numpy as np
import pytest

from reedchord.acoustics.partials import find_partials
from reedchord.acoustics.proposal import propose
from reedchord.acoustics.spectrum import spectra

RATE_HZ = 44_100


def tone(frequency_hz, levels_db, seconds=1.5, wander_cents=0.0, seed=0):
    """Return a tone with partials at these levels; its pitch swings slowly."""
    moments = np.arange(round(seconds * RATE_HZ)) / RATE_HZ
    swing = wander_cents * np.sin(2 * np.pi * 1.1 * moments)
    turns = np.cumsum(frequency_hz * 2 ** (swing / 1200)) / RATE_HZ
    chance = np.random.default_rng(seed)
    return sum(
        0.1 * 10 ** (level / 20) * np.sin(2 * np.pi * (number * turns + chance.uniform()))
        for number, level in enumerate(levels_db, 1)
        if number * frequency_hz < RATE_HZ / 2.2
    )


def proposed(samples):
    chance = np.random.default_rng(9)
    found = spectra(samples + 1e-5 * chance.normal(size=len(samples)), RATE_HZ)
    tones = propose(find_partials(found), found)
    return sorted(one.group.frequency_hz for one in tones)


def test_a_low_tone_with_forty_partials_is_one_tone():
    assert proposed(tone(69.3, [-0.8 * n for n in range(40)])) == pytest.approx([69.3], rel=1e-3)


def test_a_weak_fundamental_is_still_the_tone():
    """As on the baritone, whose lowest notes radiate little at their own frequency."""
    levels = [-28, -12, -4, 0, -3, -6, -10, -14, -18, -22]
    assert proposed(tone(65.4, levels)) == pytest.approx([65.4], rel=1e-3)


def test_a_fundamental_that_is_not_there_is_told_by_its_harmonics():
    levels = [-90, -6, 0, -3, -5, -8, -12, -15]
    assert proposed(tone(82.0, levels)) == pytest.approx([82.0], rel=1e-3)


def test_a_tone_whose_pitch_swings_keeps_its_harmonics():
    swinging = tone(233.0, [-3 * n for n in range(15)], wander_cents=12)
    assert proposed(swinging) == pytest.approx([233.0], rel=3e-3)


@pytest.mark.parametrize(
    "heights_hz", [(180.0, 311.5), (146.8, 220.7), (233.1, 349.9, 561.0), (207.7, 219.0)]
)
def test_tones_together_are_told_apart(heights_hz):
    levels = [-4.5 * n for n in range(10)]
    both = sum(tone(hz, levels, seed=n) for n, hz in enumerate(heights_hz))
    assert proposed(both) == pytest.approx(list(heights_hz), rel=1.2e-3)


def test_a_click_before_a_tone_is_no_tone():
    samples = tone(300.0, [-4.5 * n for n in range(8)], seconds=2)
    samples[2000:6000] += 0.03 * np.sin(2 * np.pi * 1234.0 * np.arange(4000) / RATE_HZ)
    assert proposed(samples) == pytest.approx([300.0], rel=1e-3)


def test_nothing_gives_nothing():
    assert proposed(np.zeros(RATE_HZ)) == []

"""Tones followed beside each other: courses, what is hidden, what is covered, what is doubled."""

import numpy as np
import pytest

from reedchord.acoustics.covering import covered, is_within_swing
from reedchord.acoustics.hidden import are_one, hidden_tones, is_harmonic, true_multiple
from reedchord.acoustics.spectrum import spectra
from reedchord.acoustics.together import follow, free_of, judged_together, uncertainty_cents

RATE_HZ = 44_100


def tone(frequency_hz, partials=10, seconds=2.0, swing_cents=0.0):
    """Return a tone with equal steps of 3 dB from partial to partial, 5 swings a second."""
    moments = np.arange(round(seconds * RATE_HZ)) / RATE_HZ
    swing = swing_cents * np.sin(2 * np.pi * 5 * moments)
    turns = np.cumsum(frequency_hz * 2 ** (swing / 1200)) / RATE_HZ
    return sum(
        0.1 * 10 ** (-3 * number / 20) * np.sin(2 * np.pi * (number * turns + 0.3 * number**2))
        for number in range(1, partials + 1)
    )


def found_in(samples):
    noise = 1e-5 * np.random.default_rng(3).normal(size=len(samples))
    return spectra(samples + noise, RATE_HZ)


def followed(found, frequency_hz, others=()):
    return follow(found, frequency_hz, np.ones(len(found.power), dtype=np.bool_), others)


def test_a_tone_is_found_from_near_its_height():
    found = found_in(tone(311.0))
    one = followed(found, 311.0 * 2 ** (20 / 1200))
    assert one.frequency_hz == pytest.approx(311.0, rel=1e-4)
    assert one.wander_cents < 0.5
    assert 0 < uncertainty_cents(one) < 1


def test_vibrato_is_followed_about_its_mean():
    found = found_in(tone(440.0, swing_cents=20))
    (one,) = judged_together(found, [followed(found, 440.0)])
    assert 1200 * np.log2(one.frequency_hz / 440) == pytest.approx(0, abs=2)
    # A sine of 20 cents has a standard deviation of 20 / √2; windows smooth some of it away.
    assert 0.7 * 20 / 2**0.5 < one.wander_cents < 1.1 * 20 / 2**0.5
    assert is_within_swing(one, 440 * 2 ** (10 / 1200))
    assert not is_within_swing(one, 440 * 2 ** (40 / 1200))


def test_a_tone_across_a_silence_is_held_only_where_it_sounds():
    samples = tone(311.0, seconds=3.0)
    samples[RATE_HZ : 2 * RATE_HZ] = 0
    found = found_in(samples)
    one = followed(found, 311.0)
    held = found.times_seconds[one.held > 0]
    assert np.any(held < 1)
    assert np.any(held > 2)
    assert not np.any((held > 1) & (held < 2))
    assert one.frequency_hz == pytest.approx(311.0, rel=1e-4)


def test_an_octave_three_cents_sharp_is_hidden_and_a_true_one_is_none():
    sharp_hz = 2 * 220 * 2 ** (3 / 1200)
    found = found_in(tone(220.0) * 0.5 + tone(sharp_hz))
    low = followed(found, 220.0)
    (hidden,) = hidden_tones(found, [low])
    assert (hidden.owner, hidden.multiple) == (0, 2)
    assert hidden.followed.frequency_hz == pytest.approx(sharp_hz, rel=5e-4)
    alone = found_in(tone(220.0) * 0.5 + tone(440.0))
    assert hidden_tones(alone, [followed(alone, 220.0)]) == ()


def test_a_tone_taken_an_octave_or_a_twelfth_too_low_is_told_its_multiple():
    found = found_in(tone(660.0))
    assert true_multiple(found, followed(found, 330.0), ()) == 2
    assert true_multiple(found, followed(found, 220.0), ()) == 3
    assert true_multiple(found, followed(found, 660.0), ()) == 1


def test_two_courses_of_one_tone_are_one_and_an_overtone_is_a_harmonic():
    found = found_in(tone(220.0) + tone(311.0))
    low = followed(found, 220.0)
    assert are_one(low, followed(found, 220.0 * 2 ** (15 / 1200)))
    assert not are_one(low, followed(found, 311.0))
    assert is_harmonic(followed(found, 660.0), low)
    assert not is_harmonic(followed(found, 311.0), low)
    assert not is_harmonic(low, low)


def test_only_harmonics_that_no_other_tone_comes_near_to_are_free():
    found = found_in(tone(200.0) + tone(302.0))
    low, high = followed(found, 200.0), followed(found, 302.0)
    is_free = np.mean(free_of(found, low, [high]), axis=1) > 0.5
    # 600 and 604 Hz are nearer than a line is wide; 400 Hz is far from 302 and from 604 Hz.
    assert is_free[:4].tolist() == [True, True, False, True]
    assert np.all(free_of(found, low, []))


def test_a_line_beside_a_moving_harmonic_is_covered_and_one_elsewhere_is_not():
    members = [(number, number - 1) for number in range(1, 11)]
    harmonics_hz = 440.0 * np.arange(1, 11)
    lines_hz = np.array([*harmonics_hz, 3 * 440 * 2 ** (20 / 1200), 3.5 * 440])
    level_db = np.array([*(-3.0 * np.arange(10)), -10.0, -10.0])
    moving, still = (found_in(tone(440.0, swing_cents=swing)) for swing in (20, 0))
    (swung,) = judged_together(moving, [followed(moving, 440.0)])
    assert covered(moving, swung, members, lines_hz, level_db)[-2:].tolist() == [True, False]
    louder = np.where(np.arange(12) == 10, 0.0, level_db)
    assert not covered(moving, swung, members, lines_hz, louder)[-2]
    plain = followed(still, 440.0)
    assert not np.any(covered(still, plain, members, lines_hz, level_db)[-2:])

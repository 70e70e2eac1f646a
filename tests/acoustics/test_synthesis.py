"""Synthesised tones against an ordinary spectrum of them."""

import numpy as np
import pytest

from reedchord.acoustics.synthesis import LOUDEST, RATE_HZ, SoundedTone, Timbre, rendered
from truth.heard_pitch import beats_per_second, cents_off

PLAIN = Timbre(breath_db=None)


def level_db(samples):
    return 20 * np.log10(np.sqrt(np.mean(np.square(samples))))


def at(samples, start, end):
    return samples[round(start * RATE_HZ) : round(end * RATE_HZ)]


@pytest.mark.parametrize("hz", [65.4, 138.6, 233.1, 441.7, 1046.5, 2093.0])
@pytest.mark.parametrize("seed", [0, 1, 2])
def test_a_tone_is_measured_back_within_two_cents(hz, seed):
    samples = rendered([SoundedTone(hz, 0, 4, 0)], seed=seed)
    assert abs(cents_off(samples, RATE_HZ, hz)) < 2


def test_tones_of_a_multiphonic_are_measured_back_within_two_cents():
    hz = (207.3, 349.9, 871.2)
    samples = rendered([SoundedTone(one, 0, 4, -6 * n) for n, one in enumerate(hz)])
    for one in hz:
        assert abs(cents_off(samples, RATE_HZ, one)) < 2


def test_two_tones_beat_at_the_difference_of_their_frequencies():
    # Two forks of 440 and 444 Hz beat four times a second (every textbook of acoustics).
    tones = [SoundedTone(hz, 0, 4, 0, PLAIN) for hz in (440, 444)]
    assert beats_per_second(rendered(tones), RATE_HZ) == pytest.approx(4, abs=0.1)


def test_the_peak_lies_twelve_decibels_below_full_scale():
    loud = [SoundedTone(220 + n, 0, 1, 20) for n in range(9)]
    assert np.max(np.abs(rendered(loud))) == pytest.approx(LOUDEST)
    assert 20 * np.log10(LOUDEST) == pytest.approx(-12)
    assert np.max(np.abs(rendered(loud, peak=0.01))) == pytest.approx(0.01)


def test_the_same_tones_give_the_same_samples():
    tones = [SoundedTone(220, 0, 1, 0), SoundedTone(331, 0.5, 1, -6)]
    assert np.array_equal(rendered(tones), rendered(tones))
    assert not np.array_equal(rendered(tones), rendered(tones, seed=1))


def test_no_tones_give_no_samples():
    assert len(rendered([])) == 0


def test_a_tone_enters_and_ends_when_it_is_said():
    samples = rendered([SoundedTone(220, 0, 1, -60), SoundedTone(440, 2, 1, 0)])
    assert not np.any(at(samples, 1.07, 2))
    assert len(samples) / RATE_HZ == pytest.approx(3.06, abs=0.001)


def test_a_course_leads_evenly_from_level_to_level():
    tone = SoundedTone(440, 0, 4, 0, PLAIN, ((0, -24), (4, 0)))
    samples = rendered([tone])
    parts = [level_db(at(samples, start, start + 0.5)) for start in (0.5, 1.5, 2.5, 3.4)]
    assert np.diff(parts) == pytest.approx([6, 6, 5.4], abs=0.3)


def test_what_dies_away_has_lost_sixty_decibels_after_its_time():
    samples = rendered([SoundedTone(440, 0, 1, 0, Timbre(decay_seconds=1.0, breath_db=None))])
    early, late = level_db(at(samples, 0.2, 0.25)), level_db(at(samples, 0.9, 0.95))
    assert late - early == pytest.approx(-42, abs=1)


def test_partials_above_the_limit_of_the_rate_are_left_out():
    samples = rendered([SoundedTone(4_000, 0, 1, 0, Timbre(partials=20, breath_db=None))])
    spectrum = np.abs(np.fft.rfft(samples))
    hz = np.fft.rfftfreq(len(samples), 1 / RATE_HZ)
    folded = (hz > 200) & (hz < 3_000)
    assert np.max(spectrum[folded]) < np.max(spectrum) / 1000


def test_a_slap_begins_with_noise_that_a_soft_tone_does_not_have():
    slap = rendered([SoundedTone(440, 0, 0.5, 0, Timbre(attack_seconds=0.004, burst_db=2.0))])
    soft = rendered([SoundedTone(440, 0, 0.5, 0, Timbre(attack_seconds=0.3, burst_db=-40.0))])
    assert level_db(at(slap, 0, 0.01)) > level_db(at(soft, 0, 0.01)) + 30

"""Lines of a spectrum: where pure tones lie, and that noise makes none."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.signal import windows
from scipy.stats import gamma, norm

from reedchord.acoustics.partials import find_partials
from reedchord.acoustics.spectrum import _window, gamma_quantile, noise_floor, spectra


def sine(frequency_hz, seconds=1.0, rate_hz=44_100, amplitude=0.3):
    moments = np.arange(round(seconds * rate_hz)) / rate_hz
    return amplitude * np.sin(2 * np.pi * frequency_hz * moments + 0.7)


def cents(one_hz, other_hz):
    return 1200 * np.log2(one_hz / other_hz)


def test_the_window_is_scipys_blackman_harris():
    expected = windows.blackmanharris(64, sym=False)
    assert _window(64) == pytest.approx(2 * expected / expected.sum(), abs=1e-6)


@pytest.mark.parametrize("looks", [1, 4, 16])
@pytest.mark.parametrize("deviate", [-0.524, 2.0, 4.5])
def test_what_averaged_noise_reaches_is_the_gamma_distributions(looks, deviate):
    """Wilson and Hilferty's approximation against scipy's exact quantile, within 2 dB.

    The mean over independent looks of exponential noise power is gamma distributed.
    """
    exact = gamma.ppf(norm.cdf(deviate), looks) / looks
    assert 10 * np.log10(gamma_quantile(deviate, looks) / exact) == pytest.approx(0, abs=2)


def test_the_floor_of_white_noise_is_its_mean_power():
    noise = np.random.default_rng(1).normal(size=5 * 44_100)
    found = spectra(noise, 44_100)
    power = np.mean(found.power[2:-2], axis=0)
    floor = noise_floor(power, found.frequencies_hz, len(found.power) / 2)
    assert 10 * np.log10(np.mean(floor) / np.mean(power)) == pytest.approx(0, abs=0.7)


@settings(max_examples=25, deadline=None)
@given(st.floats(60, 4000), st.sampled_from([16_000, 22_050, 44_100, 48_000, 96_000]))
def test_a_pure_tone_is_one_line_at_its_pitch_at_any_rate(frequency_hz, rate_hz):
    [line, *others] = find_partials(spectra(sine(frequency_hz, rate_hz=rate_hz), rate_hz))
    assert abs(line.frequency_hz - frequency_hz) < max(0.03, frequency_hz * 0.3 / 1731)
    assert line.level_db == pytest.approx(20 * np.log10(0.3), abs=1.5)
    assert all(other.level_db < line.level_db - 35 for other in others)


def test_tones_twenty_hertz_apart_are_told_apart_also_where_one_is_weak():
    both = sine(600.0, 1.5) + sine(620.0, 1.5, amplitude=0.1)
    strong, weak = find_partials(spectra(both, 44_100))[:2]
    assert abs(cents(strong.frequency_hz, 600)) < 1
    assert abs(cents(weak.frequency_hz, 620)) < 1


def test_a_tone_that_sounds_for_a_part_has_the_level_that_it_has_there():
    late = np.concatenate([np.zeros(2 * 44_100), sine(440.0)])
    line = find_partials(spectra(sine(300.0, 3.0) + late, 44_100))[1]
    assert line.level_db == pytest.approx(20 * np.log10(0.3), abs=1.5)
    assert np.max(line.powers[:40]) < 0.01 * np.max(line.powers)


def test_white_noise_makes_hardly_a_line():
    noise = np.random.default_rng(2).normal(size=2 * 44_100) * 0.1
    assert len(find_partials(spectra(noise, 44_100))) <= 2


def test_uncertainty_grows_with_noise_and_covers_the_error():
    chance = np.random.default_rng(3)
    off, sure = [], []
    for _ in range(20):
        noisy = sine(500.0, 1.5, amplitude=0.05) + chance.normal(size=66_150) * 0.4
        line = min(
            find_partials(spectra(noisy, 44_100)), key=lambda one: abs(one.frequency_hz - 500)
        )
        off.append(abs(cents(line.frequency_hz, 500)))
        sure.append(line.uncertainty_cents)
    assert np.mean(np.array(off) <= 2 * np.array(sure)) >= 0.9
    assert np.median(sure) > 2 * find_partials(spectra(sine(500.0), 44_100))[0].uncertainty_cents

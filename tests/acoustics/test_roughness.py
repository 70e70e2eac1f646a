"""Roughness against published check values and an independent library."""

import math

import mpt
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reedchord.acoustics.roughness import harmonic_partials, notes_roughness, roughness

TIMES = 5
"""The library multiplies by five, as Sethares' own program does."""


@pytest.mark.parametrize(
    ("amplitudes", "ratio"),
    # The tests of the R package dycon (smaller amplitude), quoted in our design notes.
    [((1, 1, 1), 2.9194), ((1, 2, 3), 3.9161), ((3, 2, 1), 3.9194)],
)
def test_three_partials_against_two(amplitudes, ratio):
    three = roughness(list(zip((440, 460, 480), amplitudes, strict=True)))
    assert three / roughness([(440, 1), (460, 1)]) == pytest.approx(ratio, abs=5e-4)


@pytest.mark.parametrize(
    ("low_hz", "apart_hz"),
    # The curve's maximum in closed form, with the constants as the paper rounds them.
    [(100, 19.40), (220, 21.71), (440, 25.96), (1000, 36.77), (2000, 56.08)],
)
def test_where_two_partials_are_roughest(low_hz, apart_hz):
    found = max((d / 100 for d in range(1, 20_000)), key=lambda d: _pair(low_hz, d))
    assert found == pytest.approx(apart_hz, rel=0.015)


def _pair(low_hz, apart_hz):
    return roughness([(low_hz, 1), (low_hz + apart_hz, 1)])


def test_published_values():
    # music-perception-toolbox, quoted in our design notes: 440 + 460 Hz; C4 and E4.
    assert TIMES * roughness([(440, 1), (460, 1)]) == pytest.approx(0.873030, abs=1e-6)
    c4_hz, e4_hz = 440 * 2 ** (-9 / 12), 440 * 2 ** (-5 / 12)
    assert TIMES * notes_roughness([c4_hz, e4_hz]) == pytest.approx(1.064536, abs=1e-6)


@given(st.lists(st.floats(50, 4000), min_size=1, max_size=6))
def test_chords_against_an_independent_library(notes_hz):
    partials = [partial for hz in notes_hz for partial in harmonic_partials(hz)]
    theirs = mpt.roughness([hz for hz, _ in partials], [amplitude for _, amplitude in partials])
    assert TIMES * roughness(partials) == pytest.approx(theirs, rel=1e-6, abs=1e-6)


def test_a_pure_fifth_is_smoother_than_a_quarter_tone():
    fifth, quarter_tone = (notes_roughness([220, 220 * r]) for r in (1.5, 2 ** (1 / 24)))
    assert fifth < quarter_tone


def test_one_partial_alone_is_not_rough():
    assert roughness([(440, 1)]) == 0
    assert math.isclose(roughness([(440, 1), (440, 1)]), 0)

"""Beats between two notes, against figures from outside."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reedchord.acoustics.beats import INTERVALS, beating

UNISON, OCTAVE, FIFTH, TWELFTH, TWO_OCTAVES = INTERVALS


def test_two_tuning_forks_beat_at_the_difference_of_their_frequencies():
    # Two forks of 440 and 444 Hz beat four times a second (every textbook of acoustics).
    found = beating(440, 444)
    assert found.interval is UNISON
    assert found.beats_per_second == pytest.approx(4)


@pytest.mark.parametrize(
    ("interval", "cents"),
    # Widths of pure intervals as tuners know them (common practice, no source).
    [(UNISON, 0), (OCTAVE, 1200), (FIFTH, 701.955), (TWELFTH, 1901.955), (TWO_OCTAVES, 2400)],
)
def test_widths_of_pure_intervals(interval, cents):
    assert interval.cents == pytest.approx(cents, abs=0.001)


def test_a_fifth_of_the_keyboard_beats_as_piano_tuners_count_it():
    # Beat rate of the fifth F3 to C4 in equal temperament at A4 = 440: 0.59 a second, from
    # the tables of piano tuning (value from memory); ISO 16 gives the two frequencies.
    found = beating(440 * 2 ** (-16 / 12), 440 * 2 ** (-9 / 12))
    assert found.interval is FIFTH
    assert found.beats_per_second == pytest.approx(0.59, abs=0.01)
    assert found.cents == pytest.approx(-1.955, abs=0.001)


def test_a_quarter_tone_away_from_an_octave():
    found = beating(220, 440 * 2 ** (50 / 1200))
    assert found.interval is OCTAVE
    assert found.cents == pytest.approx(50)
    assert found.beats_per_second == pytest.approx(440 * (2 ** (50 / 1200) - 1))


@pytest.mark.parametrize("cents", [0, 3, 99, -99, 1150, 1249, -1200, 702, -702, 1902, 2400])
def test_the_first_note_may_be_the_upper_one(cents):
    there, back = beating(440, 440 * 2 ** (cents / 1200)), beating(440 * 2 ** (cents / 1200), 440)
    assert there.beats_per_second == pytest.approx(back.beats_per_second)
    assert there.cents == pytest.approx(-back.cents, abs=1e-6)


@pytest.mark.parametrize("cents", [150, 400, 600, 800, 1000, 1300, 1800, 2100, 2500, 3600])
def test_other_intervals_are_left_alone(cents):
    assert beating(440, 440 * 2 ** (cents / 1200)) is None


def test_how_near_counts_can_be_said():
    assert beating(440, 440 * 2 ** (30 / 1200), within_cents=20) is None
    assert beating(440, 440 * 2 ** (20 / 1200), within_cents=20) is not None


@given(st.floats(20, 5000), st.sampled_from(INTERVALS))
def test_pure_intervals_do_not_beat(hz, interval):
    upper_hz = hz * interval.low_partial / interval.high_partial
    found = beating(hz, upper_hz)
    assert found.interval is interval
    assert found.beats_per_second == pytest.approx(0, abs=1e-6)

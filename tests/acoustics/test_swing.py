"""Vibrato mended: a frame that is not the tone's own goes back to the swing, nothing else does."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reedchord.acoustics.swing import mended

HOP_SECONDS = 0.0464


def swing(rate_hz, swing_cents, drift_cents=0.0, frames=40):
    moments = HOP_SECONDS * np.arange(frames)
    return 5000 + drift_cents * moments + swing_cents * np.sin(2 * np.pi * rate_hz * moments + 0.4)


@given(
    st.floats(4, 7),
    st.floats(5, 30),
    st.floats(-5, 5),
    st.integers(0, 39),
    st.sampled_from([-1, 1]),
)
def test_one_wild_frame_goes_back_to_where_the_tone_was(rate_hz, swing_cents, drift, wild, side):
    true = swing(rate_hz, swing_cents, drift)
    seen = true.copy()
    seen[wild] += side * 60
    whole = mended(seen, np.ones(40), HOP_SECONDS)
    assert abs(whole[wild] - true[wild]) < 12
    assert np.delete(whole, wild) == pytest.approx(np.delete(seen, wild))


def test_what_does_not_swing_evenly_stays_as_it_was():
    slide = np.concatenate([np.full(20, 5000.0), np.full(20, 5030.0)])
    assert np.sum(mended(slide, np.ones(40), HOP_SECONDS) != slide) == 0


def test_few_frames_tell_nothing():
    short = np.array([5000.0, 5040, 5000, 5000])
    assert mended(short, np.ones(4), HOP_SECONDS) == pytest.approx(short)

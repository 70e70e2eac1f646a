"""The algebra of pitches: every text is read back, every move can be undone."""

import re
from fractions import Fraction

from hypothesis import assume, given
from hypothesis import strategies as st

from reedchord.errors import InputError
from reedchord.pitch import (
    MAX_ALTERATION_CENTS,
    STEPS,
    Pitch,
    parse_pitch,
    pitch_from_cents,
    pitch_from_hz,
)
from reedchord.saxophones import FAMILY

ALTERATIONS = st.one_of(
    st.integers(-MAX_ALTERATION_CENTS, MAX_ALTERATION_CENTS).map(Fraction),
    st.fractions(-MAX_ALTERATION_CENTS, MAX_ALTERATION_CENTS, max_denominator=10_000),
)
PITCHES = st.builds(Pitch, st.sampled_from(STEPS), st.integers(-9, 10), ALTERATIONS)
NEAR_PITCHES = st.builds(
    Pitch,
    st.sampled_from(STEPS),
    st.integers(0, 9),
    st.fractions(-250, 250, max_denominator=1000),
)
MEMBERS = st.sampled_from(list(FAMILY.values()))


@given(PITCHES)
def test_every_way_of_writing_is_read_back(pitch):
    assert parse_pitch(str(pitch)) == pitch
    assert parse_pitch(pitch.quarter_tone_text()) == pitch
    assert parse_pitch(pitch.printed()) == pitch


@given(NEAR_PITCHES)
def test_the_written_accidental_is_the_nearest_one(pitch):
    assume(abs(pitch.alteration_cents) <= 200)
    plain, quarter = (
        parse_pitch(re.sub(r"(?<=\d)[+-].*", "", text))
        for text in (str(pitch), pitch.quarter_tone_text())
    )
    assert abs(pitch.cents - plain.cents) <= 50
    assert plain.alteration_cents % 100 == 0
    assert abs(pitch.cents - quarter.cents) <= 25
    assert quarter.alteration_cents % 50 == 0


@given(st.text(max_size=12))
def test_any_text_is_a_pitch_or_a_message_with_a_pointer(text):
    try:
        pitch = parse_pitch(text)
    except InputError as error:
        if error.code == "pitch.text":
            *_, pointer = error.message.split("\n")
            assert 2 <= pointer.index("^") <= len(text) + 2
    else:
        assert parse_pitch(str(pitch)) == pitch


@given(PITCHES, st.text(alphabet="#bxn♯qsf -+.19¢/", min_size=1, max_size=4))
def test_a_pointer_never_stands_before_what_can_still_be_read(pitch, more):
    text = str(pitch) + more
    try:
        parse_pitch(text)
    except InputError as error:
        if error.code == "pitch.text":
            *_, pointer = error.message.split("\n")
            assert pointer.index("^") - 2 >= len(str(pitch)) - 1


@given(st.fractions(-1000, 14_000, max_denominator=1000))
def test_a_height_is_spelled_within_half_a_semitone(cents):
    pitch = pitch_from_cents(cents)
    assert pitch.cents == cents
    assert abs(pitch.deviation_cents) <= 50
    assert pitch.accidental_cents in (0, 100)
    assert pitch.step not in "EB" or pitch.accidental_cents == 0


@given(st.floats(16, 20_000), st.floats(400, 480))
def test_a_frequency_comes_back_within_a_hundredth_of_a_cent(hz, a4_hz):
    back = pitch_from_hz(hz, a4_hz).hz(a4_hz)
    assert abs(back / hz - 1) < 2 ** (0.0051 / 1200) - 1


@given(
    NEAR_PITCHES.filter(lambda pitch: abs(pitch.alteration_cents) <= 150),
    st.integers(-14, 14),
    st.integers(-2, 2),
)
def test_a_move_and_its_opposite_cancel(pitch, steps, wider):
    semitones = round(Fraction(12, 7) * steps) + wider
    moved = pitch.transposed(semitones=semitones, steps=steps)
    assert moved.cents - pitch.cents == 100 * semitones
    assert moved.staff_position - pitch.staff_position == steps
    assert moved.transposed(semitones=-semitones, steps=-steps) == pitch


@given(MEMBERS, NEAR_PITCHES)
def test_written_and_concert_are_each_others_way_back(member, pitch):
    assert member.written(member.concert(pitch)) == pitch
    assert member.concert(member.written(pitch)) == pitch
    assert member.concert(pitch).cents == pitch.cents + 100 * member.semitones


@given(MEMBERS, NEAR_PITCHES, NEAR_PITCHES)
def test_intervals_survive_transposition(member, one, other):
    difference = one.cents - other.cents
    assert member.concert(one).cents - member.concert(other).cents == difference
    apart = one.staff_position - other.staff_position
    assert member.concert(one).staff_position - member.concert(other).staff_position == apart

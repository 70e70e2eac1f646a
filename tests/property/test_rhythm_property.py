"""The algebra of note values: every text is read back, every sum comes out."""

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from reedchord.errors import InputError
from reedchord.reader import Reader, told_to
from reedchord.rhythm import (
    MAX_DOTS,
    QUARTERS_BY_TYPE,
    NoteValue,
    Rate,
    beat_text,
    parse_beat,
    parse_note_value,
    parse_rate,
    single_value,
    spelled_values,
)

VALUES = st.builds(NoteValue, st.sampled_from(list(QUARTERS_BY_TYPE)), st.integers(0, 4))
SHORTEST = min(QUARTERS_BY_TYPE.values())


@given(VALUES, st.booleans(), st.booleans())
def test_every_value_is_read_back(value, british, plural):
    assert parse_note_value(str(value)) == value
    with told_to(Reader(british)):
        assert parse_note_value(value.words(plural=plural)) == value


@given(
    st.builds(Rate, VALUES, VALUES, st.fractions(min_value=1, max_value=400, max_denominator=999))
)
def test_every_speed_is_read_back(rate):
    assert parse_rate(str(rate)) == rate
    assert parse_rate(rate.words()) == rate
    with told_to(Reader(british=True)):
        assert parse_rate(rate.words()) == rate


@given(VALUES, VALUES, st.integers(1, 400))
def test_twice_the_metronome_mark_is_twice_as_fast(value, beat, mark):
    rate, faster = Rate(value, beat, Fraction(mark)), Rate(value, beat, Fraction(2 * mark))
    assert faster.attacks_per_second == 2 * rate.attacks_per_second
    seconds_a_beat = Fraction(60, mark)
    assert 1 / rate.attacks_per_second == seconds_a_beat * value.quarters / beat.quarters


@given(st.fractions(min_value=1, max_value=1000, max_denominator=10**6))
def test_every_beat_is_read_back(beat):
    assert parse_beat(beat_text(beat)) == beat


@given(st.text(max_size=12))
def test_any_text_is_a_beat_or_a_message(text):
    try:
        beat = parse_beat(text)
    except InputError:
        return
    assert beat >= 1
    assert parse_beat(beat_text(beat)) == beat


@given(st.integers(0, 40 * 256).map(lambda count: count * SHORTEST))
def test_every_multiple_of_the_shortest_value_is_spelled_exactly(quarters):
    values = spelled_values(quarters)
    lengths = [value.quarters for value in values]
    assert sum(lengths) == quarters
    assert lengths == sorted(lengths, reverse=True)
    assert all(value.dots <= MAX_DOTS for value in values)
    # Only the last may carry dots, so that the beats stay visible.
    assert all(value.dots == 0 for value in values[:-1]) or quarters > QUARTERS_BY_TYPE["maxima"]


@given(st.builds(NoteValue, st.sampled_from(list(QUARTERS_BY_TYPE)), st.integers(0, MAX_DOTS)))
def test_a_single_value_is_found_again_by_its_length(value):
    assert single_value(value.quarters) == value
    assert spelled_values(value.quarters) == [value]


@given(st.integers(1, 400), st.sampled_from([3, 5, 7, 9, 11, 13]))
def test_tuplet_lengths_are_not_spelled(count, divisor):
    quarters = Fraction(count, divisor)
    assert (spelled_values(quarters) is None) == (quarters.denominator != 1)

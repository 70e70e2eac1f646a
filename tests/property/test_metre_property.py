"""The algebra of lengths in a bar: divided and joined, they come out even."""

from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from reedchord.metre import chord_values, metre, rest_values

METRES = st.builds(
    metre,
    st.one_of(st.none(), st.integers(1, 15).map(Fraction)),
    st.sampled_from([Fraction(2), Fraction(1), Fraction(1, 2), Fraction(1, 4)]),
)
SPELLINGS = st.sampled_from([chord_values, rest_values])
STEPS = st.integers(0, 96)
GRIDS = st.sampled_from([Fraction(1, 2), Fraction(1, 4), Fraction(1, 8)])


@settings(deadline=None)
@given(METRES, SPELLINGS, GRIDS, STEPS, st.integers(1, 96))
def test_every_length_in_halvings_of_a_beat_comes_out(grid, spelling, step, start, length):
    first, last = start * step, (start + length) * step
    values = spelling(grid, first, last)
    assert values is not None
    assert sum(value.quarters for value in values) == last - first


@settings(deadline=None)
@given(METRES, SPELLINGS, STEPS, STEPS)
def test_two_stretches_that_meet_on_a_barline_last_as_long_as_one(grid, spelling, start, end):
    bar = grid.steps[0] * 8
    first, last = bar - Fraction(start, 8), bar + Fraction(end, 8)
    parts = [
        sum((value.quarters for value in spelling(grid, *cut) or ()), Fraction(0))
        for cut in ((first, bar), (bar, last))
        if cut[0] < cut[1]
    ]
    assert sum(parts, Fraction(0)) == last - first


@settings(deadline=None)
@given(METRES, GRIDS, STEPS, st.integers(1, 96))
def test_no_rest_leads_over_a_moment_stronger_than_its_own(grid, step, start, length):
    first, last = start * step, (start + length) * step
    if len(grid.strongest_within(first, last)[1]) > 16:  # longer ones are only counted
        return
    moment = first
    for value in rest_values(grid, first, last) or ():
        rank, _ = grid.strongest_within(moment, moment + value.quarters)
        assert grid.rank(moment) <= rank
        moment += value.quarters

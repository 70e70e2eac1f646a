"""The cheapest assignment, by hand and against an independent solver."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linear_sum_assignment

from reedchord.choosing.assignment import best_assignment

MISSING = 200.0


def _total(costs, given_columns):
    return sum(
        MISSING if column is None else row[column]
        for row, column in zip(costs, given_columns, strict=True)
    )


def _least_total(costs):
    """The least total by scipy: each row may also take a column of its own, which is missing."""
    rows, columns = len(costs), len(costs[0])
    table = np.full((rows, columns + rows), 1e6)
    for i, row in enumerate(costs):
        for j, cost in enumerate(row):
            table[i, j] = 1e6 if cost is None else cost
        table[i, columns + i] = MISSING
    chosen = linear_sum_assignment(table)
    return float(table[chosen].sum())


def test_the_nearest_tone_is_left_to_the_wish_that_has_no_other():
    assert best_assignment([[10.0, 30.0], [15.0, None]], MISSING) == [1, 0]


def test_what_does_not_go_together_is_missing():
    assert best_assignment([[None], [12.0]], MISSING) == [None, 0]
    assert best_assignment([[], []], MISSING) == [None, None]
    assert best_assignment([], MISSING) == []


COSTS = st.integers(0, 7).flatmap(
    lambda columns: st.lists(
        st.lists(st.none() | st.integers(0, 300).map(float), min_size=columns, max_size=columns),
        min_size=1,
        max_size=7,
    )
)


@given(COSTS)
def test_the_total_is_that_of_scipy(costs):
    """scipy.optimize.linear_sum_assignment solves the same problem by another algorithm."""
    chosen = best_assignment(costs, MISSING)
    used = [column for column in chosen if column is not None]
    assert len(set(used)) == len(used)
    assert _total(costs, chosen) == _least_total(costs)


def test_twelve_wishes_and_twelve_tones():
    """The largest case that a record allows, every pair possible."""
    costs = np.random.default_rng(5).integers(0, 600, (12, 12)).astype(float).tolist()
    assert _total(costs, best_assignment(costs, MISSING)) == _least_total(costs)

"""The cheapest assignment, by hand and against an independent solver."""

from __future__ import annotations

from itertools import product

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linear_sum_assignment

from reedchord.choosing.assignment import best_assignment

MISSING = 200


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
    assert best_assignment([[10, 30], [15, None]], MISSING) == [1, 0]


def test_what_does_not_go_together_is_missing():
    assert best_assignment([[None], [12]], MISSING) == [None, 0]
    assert best_assignment([[], []], MISSING) == [None, None]
    assert best_assignment([], MISSING) == []


def test_of_what_costs_the_same_the_first_tones_are_taken():
    assert best_assignment([[7, 7], [7, 7]], MISSING) == [0, 1]
    assert best_assignment([[7, 7, 9], [7, None, 9]], MISSING) == [1, 0]
    assert best_assignment([[MISSING]], MISSING) == [0]


COSTS = st.integers(0, 7).flatmap(
    lambda columns: st.lists(
        st.lists(st.none() | st.integers(0, 300), min_size=columns, max_size=columns),
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


@given(COSTS)
def test_of_all_ways_the_first_of_the_cheapest(costs):
    """Against every way of giving, tried out one by one."""
    few = [row[:4] for row in costs[:4]]
    columns = range(len(few[0]) + 1)  # the last one stands for none
    none = len(few[0])
    ways = [
        way
        for way in product(columns, repeat=len(few))
        if all(column == none or way.count(column) == 1 for column in way)
        and all(
            column == none or row[column] is not None for row, column in zip(few, way, strict=True)
        )
    ]
    totals = [
        (sum(MISSING if c == none else row[c] for row, c in zip(few, way, strict=True)), way)
        for way in ways
    ]
    assert best_assignment(few, MISSING) == [None if c == none else c for c in min(totals)[1]]


def test_twelve_wishes_and_twelve_tones():
    """The largest case that a record allows, every pair possible."""
    costs = np.random.default_rng(5).integers(0, 600, (12, 12)).tolist()
    assert _total(costs, best_assignment(costs, MISSING)) == _least_total(costs)

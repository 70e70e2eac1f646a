"""What a change costs in a time. The order is common practice, no source; so are the numbers."""

from __future__ import annotations

from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reedchord.choosing.connection import (
    FRESH_AFTER_SECONDS,
    POINTS_OF_DOCUMENTED,
    POINTS_OF_UNKNOWN_EMBOUCHURE,
    Basis,
    Connection,
    Connections,
    Room,
)
from reedchord.collection import Collection
from reedchord.fingering_change import ChangeDifficulty
from reedchord.sonority_fields import Closeness
from samples import sonority

HERON = sonority(
    "heron",
    "D5",
    fingering="left 1 2 3 | right 1 2 3, E flat",
    neighbours=[{"sonority": "stork", "because": "embouchure"}],
)
EGRET = sonority("egret", "D5", fingering="left 1 2 3 | right 1 2 3, low C")
STORK = sonority(
    "stork",
    "D5",
    fingering="octave | left palm D | right side C",
    neighbours=[{"sonority": "heron", "because": "fingers"}],
)
TWIN = sonority("twin", "D5", fingering="left 1 2 3 | right 1 2 3, E flat")
TERN = sonority("tern", "D5", saxophone="tenor")
BIRDS = Collection({one.id: one for one in (HERON, EGRET, STORK, TWIN, TERN)}, {}, "birds")
BETWEEN = Connections(BIRDS).between


def test_a_documented_neighbour_beats_whatever_the_fingers_say():
    documented, computed = BETWEEN(HERON, STORK), BETWEEN(HERON, EGRET)
    assert documented.fingers.grade == "hard"
    assert computed.fingers.grade == "easy"
    assert documented.points < computed.points
    assert max(POINTS_OF_DOCUMENTED.values()) < POINTS_OF_UNKNOWN_EMBOUCHURE


def test_the_best_of_what_two_records_say_holds_both_ways():
    for pair in ((HERON, STORK), (STORK, HERON)):
        assert BETWEEN(*pair).because is Closeness.FINGERS


def test_the_same_sonority_again_is_no_change():
    again = BETWEEN(HERON, HERON)
    assert (again.points, again.basis) == (0, Basis.SAME)
    assert Room(0.01, 0).cost(again) == 0


def test_the_same_fingering_with_another_embouchure_is_one():
    assert BETWEEN(HERON, TWIN).points == POINTS_OF_UNKNOWN_EMBOUCHURE


def test_nobody_changes_the_saxophone():
    assert BETWEEN(HERON, TERN) is None
    assert Room(1, 1).cost(None) is None


def _computed(points):
    return Connection(points, Basis.COMPUTED, None, ChangeDifficulty(0, (), contrary=False))


@pytest.mark.parametrize(
    ("length", "rest", "seconds"),
    [(1, 0, 0.25), (2, 0, 0.5), (8, 0, 0.5), (1, 1.5, 1.75), (8, 1, 1.5)],
)
def test_time_for_a_change_is_the_rest_and_a_part_of_the_length(length, rest, seconds):
    assert Room(length, rest).change_seconds == seconds


def test_cost_of_a_change():
    """Ten points ask for half a second."""
    assert _computed(10).cost(0.5) == pytest.approx(10)
    assert _computed(10).cost(0.25) == pytest.approx(40)
    assert _computed(10).cost(0.125) == pytest.approx(160)
    assert _computed(10).cost(0.12) is None


def test_a_long_rest_makes_every_change_free_and_an_overlap_impossible():
    hardest = _computed(40)
    assert Room(1, FRESH_AFTER_SECONDS).cost(hardest) == 0
    assert Room(1, -0.01).cost(_computed(1)) is None


SECONDS = st.floats(0.05, 10)
POINTS = st.integers(0, 40)


@given(POINTS, POINTS, SECONDS, SECONDS, st.floats(0, 5), st.floats(0, 5))
def test_harder_or_faster_is_never_cheaper(one, other, length, longer, rest, more_rest):
    easy, hard = sorted((one, other))
    short, long = sorted((length, longer))
    little, much = sorted((rest, more_rest))
    least = Room(long, much).cost(_computed(easy))
    most = Room(short, little).cost(_computed(hard))
    assert (inf if least is None else least) <= (inf if most is None else most)

"""The cheapest sequences, against trying every one of them."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reedchord.choosing.connection import Basis, Connection, Room
from reedchord.choosing.sequence import LEFT_OUT, Blocked, Moment, Option, Row, best_ways
from reedchord.fingering_change import ChangeDifficulty
from reedchord.saxophones import saxophone
from samples import sonority

ALTO, TENOR = saxophone("alto"), saxophone("tenor")
BIRDS = {
    name: sonority(name, "D5", saxophone=member)
    for name, member in {
        "heron": "alto",
        "egret": "alto",
        "stork": "alto",
        "crane": "alto",
        "tern": "tenor",
        "gull": "tenor",
        "knot": "tenor",
    }.items()
}
NO_FINGERS = ChangeDifficulty(0, (), contrary=False)


def _way_cost(row, options, players):
    """What one sequence costs, wish by wish, from the definition; None where it is no way."""
    last: dict[int, int] = {}
    total = 0.0
    for wish, (number, player) in enumerate(zip(options, players, strict=True)):
        chosen, moment = row.options[wish][number], row.moments[wish]
        if chosen.sonority.saxophone != row.players[player]:
            return None
        if moment.player not in (None, player):
            return None
        total += chosen.cost
        if player in last:
            before = last[player]
            was = row.moments[before]
            room = Room(
                float(was.end_seconds - was.begin_seconds),
                float(moment.begin_seconds - was.end_seconds),
            )
            sonority_before = row.options[before][options[before]].sonority
            more = room.cost(row.between(sonority_before, chosen.sonority))
            if more is None:
                return None
            total += more
        last[player] = wish
    return total


def _by_brute_force(row):
    """The least cost of every sequence of sonorities, whoever plays it."""
    best: dict[tuple[int, ...], float] = {}
    every_player = range(len(row.players))
    for options in product(*(range(len(some)) for some in row.options)):
        for players in product(every_player, repeat=len(options)):
            cost = _way_cost(row, options, players)
            if cost is not None:
                best[options] = min(cost, best.get(options, cost))
    return best


SECONDS = st.sampled_from([Fraction(1, 8), Fraction(1, 4), Fraction(1), Fraction(3), Fraction(5)])


@st.composite
def rows(draw, players, most_wishes):
    points = draw(
        st.dictionaries(
            st.tuples(st.sampled_from(list(BIRDS)), st.sampled_from(list(BIRDS))),
            st.integers(0, 40),
        )
    )

    def between(before, after):
        if before.saxophone != after.saxophone:
            return None
        return Connection(points.get((before.id, after.id), 9), Basis.COMPUTED, None, NO_FINGERS)

    moments, options, begin = [], [], Fraction(0)
    for _ in range(draw(st.integers(1, most_wishes))):
        length, to_next = draw(SECONDS), draw(SECONDS)
        named = draw(st.sampled_from([None, None, None, *range(len(players))]))
        moments.append(Moment(begin, begin + length, named))
        begin += to_next
        names = draw(st.lists(st.sampled_from(list(BIRDS)), min_size=1, max_size=3, unique=True))
        options.append(tuple(Option(BIRDS[n], float(draw(st.integers(0, 60)))) for n in names))
    return Row(tuple(moments), tuple(options), tuple(players), between)


def _check_against_brute_force(row, count):
    found, truth = best_ways(row, count), _by_brute_force(row)
    if isinstance(found, Blocked):
        assert not truth
        return
    assert [way.cost for way in found] == pytest.approx(sorted(truth.values())[:count])
    assert len({way.options for way in found}) == len(found)
    for way in found:
        assert way.cost == pytest.approx(truth[way.options])
        assert way.cost == pytest.approx(_way_cost(row, way.options, way.players))


@given(rows([ALTO], most_wishes=5), st.integers(1, 6))
def test_one_player(row, count):
    _check_against_brute_force(row, count)


@given(rows([ALTO, ALTO], most_wishes=4), st.integers(1, 4))
def test_two_players_of_one_saxophone(row, count):
    _check_against_brute_force(row, count)


@settings(deadline=None)
@given(rows([ALTO, TENOR, ALTO], most_wishes=4), st.integers(1, 4))
def test_a_section_of_three(row, count):
    _check_against_brute_force(row, count)


def _cut(row, keep):
    """The row with the cheapest options of each saxophone alone, and bounds for all others."""
    options, bounds = [], []
    for some in row.options:
        kept, bound = [], {}
        for member in {option.sonority.saxophone for option in some}:
            own = sorted((one for one in some if one.sonority.saxophone == member), key=_fit)
            kept += own[:keep]
            if len(own) > keep:
                bound[member] = own[keep - 1].cost
        options.append(tuple(kept))
        bounds.append(bound)
    return replace(row, options=tuple(options), left_out=tuple(bounds))


def _fit(option):
    return option.cost


@settings(deadline=None)
@given(st.one_of(rows([ALTO], 5), rows([ALTO, TENOR], 4)), st.integers(1, 3))
def test_bounds_stand_for_what_is_left_out(row, count):
    """No way costs less than the bounded one; without a bound in them, the best are found."""
    truth = sorted(_by_brute_force(row).values())
    bounded = best_ways(_cut(row, 1), count)
    if isinstance(bounded, Blocked):
        assert not truth
        return
    assert all(bounded[0].cost <= cost + 1e-9 for cost in truth)
    if all(LEFT_OUT not in way.options for way in bounded):
        assert [way.cost for way in bounded] == pytest.approx(truth[:count])


def test_where_no_way_leads_on():
    def between(before, after):
        return Connection(40, Basis.COMPUTED, None, NO_FINGERS)

    moments = tuple(Moment(Fraction(n, 4), Fraction(n + 1, 4)) for n in range(3))
    options = ((Option(BIRDS["heron"], 0.0),), (Option(BIRDS["egret"], 0.0),))
    row = Row(moments, (options[0], *options), (ALTO,), between)
    assert best_ways(row, 1) == Blocked(1, (((0, 0),),))
    two = Row(moments, (options[0], *options), (ALTO, ALTO), between)
    assert isinstance(best_ways(two, 1), Blocked)
    three = Row(moments, (options[0], *options), (ALTO, ALTO, ALTO), between)
    [way] = best_ways(three, 1)
    assert (way.cost, way.players) == (0.0, (0, 1, 2))

"""What is weighed for each wish, and how much weighing that is."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from reedchord.chains.chain_wishes import wishes_from_text
from reedchord.choosing import sequence
from reedchord.choosing.chain_options import Offers, count_of_moves
from reedchord.choosing.connection import Basis, Connection
from reedchord.choosing.sequence import Moment, Option, Row, best_ways
from reedchord.collection import Collection
from reedchord.fingering_change import ChangeDifficulty
from reedchord.saxophones import saxophone
from samples import sonority

ALTO, TENOR = saxophone("alto"), saxophone("tenor")
# Written D5 sounds F4 on alto, a few cents apart each.
FLOCK = {
    name: sonority(name, f"D5+{cents}")
    for name, cents in (("heron", 10), ("egret", 20), ("stork", 30))
}
FLOCK["tern"] = sonority("tern", "G5", saxophone="tenor")
BIRDS = Collection(FLOCK, {}, "birds")
[WISH] = wishes_from_text("F4").request.wishes


def _names(offer):
    return [one.sonority.id for one in offer.fitting]


def test_the_nearest_of_one_saxophone_are_offered_without_the_forbidden():
    offers = Offers(BIRDS, {"heron"}, 1)
    offer = offers.of(WISH, ALTO, 1)
    assert (_names(offer), offer.whole) == (["egret"], False)
    assert (_names(offers.of(WISH, ALTO, 2)), offers.of(WISH, ALTO, 2).whole) == (
        ["egret", "stork"],
        True,
    )
    assert _names(offers.of(WISH, TENOR, 2)) == ["tern"]


def test_an_offer_that_is_cut_is_not_whole():
    offer = Offers(BIRDS, set(), 1).of(WISH, ALTO, 3)
    assert offer.whole
    assert offer.cut(3) is offer
    assert (_names(offer.cut(2)), offer.cut(2).whole) == (["heron", "egret"], False)


def _free(before, after):
    if before.saxophone != after.saxophone:
        return None
    return Connection(1, Basis.COMPUTED, None, ChangeDifficulty(0, (), contrary=False))


@st.composite
def rows(draw):
    players = draw(st.lists(st.sampled_from([ALTO, TENOR]), min_size=1, max_size=3))
    there = [one for one in FLOCK.values() if one.saxophone in players]
    moments, options, begin = [], [], Fraction(0)
    for _ in range(draw(st.integers(1, 4))):
        length = draw(st.sampled_from([Fraction(1), Fraction(3)]))
        moments.append(Moment(begin, begin + length))
        begin += draw(st.sampled_from([Fraction(1), Fraction(3), Fraction(8)]))
        chosen = draw(st.lists(st.sampled_from(there), min_size=1, max_size=3, unique_by=id))
        options.append(tuple(Option(one, 0.0) for one in chosen))
    return Row(tuple(moments), tuple(options), tuple(players), _free)


@settings(deadline=None)
@given(rows())
def test_the_count_of_moves_is_never_exceeded(row):
    moves = 0

    def counted(turn, state):
        nonlocal moves
        for move in real(turn, state):
            moves += 1
            yield move

    real, sequence._moves = sequence._moves, counted
    try:
        best_ways(row, 1)
    finally:
        sequence._moves = real
    sizes = [
        {member: sum(one.sonority.saxophone == member for one in some) for member in (ALTO, TENOR)}
        for some in row.options
    ]
    assert moves <= count_of_moves(row.moments, sizes, row.players)

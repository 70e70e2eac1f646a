"""Place and strip, swap and swap back undo each other, whatever the score and the wishes."""

from hypothesis import given, settings
from hypothesis import strategies as st

from reedchord.musicxml.document import read_score
from reedchord.placement.found import State, find_placements
from reedchord.placement.place import place
from reedchord.placement.strip import strip
from reedchord.placement.swap import SwapPlaces, swap
from samples import BAR_REST, COLLECTION, at, note, score, sonority

TEAL = sonority("teal", "E4", "C5", "G5+60")
NAMES = ["heron", "egret", "crane"]
PIECES = [
    note(),
    note("C5"),
    note(type_=None),
    note("F4").replace("<note>", "<note>\n      "),
    note("D4") + note("A4").replace("<note>", "<note><chord/>"),
    note("G4").replace("<note>", '<note id="mine{}">'),
    note("E4").replace(
        "</note>", "<notations><articulations><accent/></articulations></notations></note>"
    ),
    note("B4").replace("</pitch>", "</pitch><!-- é -->"),
]


@st.composite
def scores(draw):
    """Return a score of three bars in four-four time, some with two voices."""
    bars = []
    for bar in range(3):
        if draw(st.booleans()):
            bars.append(BAR_REST.format(4))
            continue
        pieces = draw(st.lists(st.sampled_from(PIECES), min_size=4, max_size=4))
        voice = "".join(piece.format(f"{bar}-{i}") for i, piece in enumerate(pieces))
        second = "<backup><duration>4</duration></backup>" + BAR_REST.format(4).replace(
            "<voice>1", "<voice>2"
        )
        bars.append(voice + (second if draw(st.booleans()) else ""))
    return score(*bars, version=draw(st.sampled_from(["3.0", "4.0"])))


@st.composite
def wishes(draw):
    """Return placements on the first beats of some bars."""
    bars = draw(st.sets(st.integers(1, 3), min_size=1))
    return [
        at(
            bar,
            1,
            draw(st.sampled_from(NAMES)),
            voice=1,
            manner=draw(st.sampled_from(["ordinary", "slap"])),
            tones=draw(st.sampled_from([None, (1, 2), (2,)])),
            emphasised=draw(st.sampled_from([None, 2])),
        )
        for bar in sorted(bars)
    ]


def renamed(data: bytes) -> bytes:
    return data.replace(b"Alto Saxophone", b"Alto Saxophone 1")


@settings(max_examples=80, deadline=None)
@given(data=scores(), wanted=wishes())
def test_strip_undoes_place(data, wanted):
    assert strip(place(data, wanted, COLLECTION).data).data == data


@settings(max_examples=80, deadline=None)
@given(data=scores(), wanted=wishes())
def test_strip_undoes_place_also_where_something_else_was_edited(data, wanted):
    placed = place(data, wanted, COLLECTION)
    edited = read_score(renamed(placed.data))
    assert {one.state for one in find_placements(edited, placed.record)} == {State.INTACT}
    assert strip(renamed(placed.data)).data == renamed(data)


@settings(max_examples=80, deadline=None)
@given(data=scores(), wanted=wishes(), choice=st.data())
def test_swapping_back_undoes_a_swap(data, wanted, choice):
    placed = place(data, wanted, COLLECTION).data
    old = choice.draw(st.sampled_from([wish.sonority for wish in wanted]))
    bar = choice.draw(st.sampled_from([None, *(w.bar for w in wanted if w.sonority == old)]))
    there = swap(placed, old, TEAL, SwapPlaces(bar=bar))
    assert there.placed.data != placed
    assert swap(there.placed.data, "teal", COLLECTION[old]).placed.data == placed
    assert strip(there.placed.data).data == data

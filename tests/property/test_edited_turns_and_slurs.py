"""Tremolos, trills and slurs in edited scores: all of ours goes, theirs stays, plans are met."""

import re

from hypothesis import given, settings
from hypothesis import strategies as st

from reedchord.placement.place import place
from reedchord.placement.strip import strip
from reedchord.placement.swap import swap
from samples import BAR_REST, COLLECTION, at, events, note, score, shown, sonority
from truth.musicxml_schema import schema_errors

TEAL = sonority("teal", "E4", "C5", "G5+60")
NAMES = ["heron", "egret", "crane"]
BARS = {
    "rest": BAR_REST.format(4),
    "rests": note(quarters=2, type_="half") * 2,
    "quarters": note() * 4,
    "notes": note("C5", 2, type_="half") + note("D5", 2, type_="half"),
    "mixed": note("C5", 2, type_="half") + note(quarters=2, type_="half"),
    "spaced": note("C5", 2, type_="half").replace("><", ">\n      <") + note("D5", 2, type_="half"),
}
COUNT = 3


@st.composite
def scores(draw):
    """Return a score of three bars, each with something on the first and on the third beat."""
    kinds = [draw(st.sampled_from(sorted(BARS))) for _ in range(COUNT)]
    bars = (BARS[kind] for kind in kinds)
    return score(*bars, version=draw(st.sampled_from(["3.0", "4.0"])))


@st.composite
def plans(draw):
    """Return placements half a bar long, some in turns, some slurred to the next."""
    places = [(bar, beat) for bar in range(1, COUNT + 1) for beat in (1, 3)]
    chosen = sorted(draw(st.sets(st.sampled_from(places), min_size=1)))
    wishes = []
    for place_, following in zip(chosen, [*chosen[1:], None], strict=True):
        is_next = following is not None and places.index(following) == places.index(place_) + 1
        name, other = draw(st.permutations(NAMES))[:2]
        way = draw(st.sampled_from([None, None, "tremolo", "trill"]))
        turns = {} if way is None else {way: other}
        slur = is_next and draw(st.booleans())
        wishes.append(at(*place_, name, voice=1, lasting="half", slur=slur, **turns))
    return wishes


THEIR_SLURS = st.lists(
    st.tuples(st.integers(1, 6), st.integers(0, 5), st.integers(0, 5)), max_size=3
)


def with_their_slurs(data: bytes, slurs) -> bytes:
    """Write slurs with a look of their own from the one to the other half bar of a text.

    A half bar is told by a comment before its first note.
    """
    text = data.decode()
    for number, first, last in slurs:
        if first == last:
            continue
        for way, which in zip(("start", "stop"), sorted((first, last)), strict=True):
            mark = text.index(f"<!--{which}-->")
            end = text.index("</note>", mark)
            slur = f'<slur type="{way}" number="{number}" placement="below"/>'
            inside = text.rfind("</notations>", mark, end)
            point = end if inside < 0 else inside
            slur = slur if inside >= 0 else f"<notations>{slur}</notations>"
            text = text[:point] + slur + text[point:]
    return text.encode()


def renamed(data: bytes) -> bytes:
    return data.replace(b"Alto Saxophone", b"Alto Saxophone 1")


def halves() -> bytes:
    """Return a score of six notes, each with a comment that tells it, also once it is a chord."""
    pitches = iter(["C5", "D5", "E5", "F5", "G5", "A5"])
    marked = (
        note(pitch, 2, type_="half").replace("<duration>", f"<!--{which}--><duration>")
        for which, pitch in enumerate(pitches)
    )
    bars = [next(marked) + next(marked) for _ in range(COUNT)]
    return score(*bars)


def outline(data: bytes):
    """Return what sounds, with the ways of slurs and tremolos on it."""
    return [
        (bar, event.onset_quarters, shown(event), sorted(marks))
        for bar in range(1, COUNT + 1)
        for event in events(data, bar)
        for marks in [[mark.get("type") for mark in event.first.iter("slur", "tremolo")]]
        if not event.is_rest
    ]


@settings(max_examples=100, deadline=None)
@given(data=scores(), wanted=plans())
def test_what_stood_there_comes_back_where_something_else_was_edited(data, wanted):
    placed = place(data, wanted, COLLECTION).data
    assert schema_errors(placed) == []
    done = strip(renamed(placed))
    assert (done.data, done.left) == (renamed(data), ())


@settings(max_examples=100, deadline=None)
@given(wanted=plans(), slurs=THEIR_SLURS, keeps_ids=st.booleans())
def test_slurs_of_others_are_where_they_would_be_without_ours(wanted, slurs, keeps_ids):
    data = halves()
    placed = with_their_slurs(place(data, wanted, COLLECTION).data, slurs)
    if not keeps_ids:
        placed = re.sub(rb' id="rc-[^"]*"', b"", placed)
    done = strip(placed)
    assert done.left == ()
    assert done.data == with_their_slurs(data, slurs)


@settings(max_examples=100, deadline=None)
@given(data=scores(), before=plans(), after=plans())
def test_a_changed_plan_gives_what_it_gives_in_a_new_score(data, before, after):
    once = renamed(place(data, before, COLLECTION).data)
    again = place(once, after, COLLECTION, whole=True).data
    assert schema_errors(again) == []
    assert outline(again) == outline(place(data, after, COLLECTION).data)
    assert place(again, after, COLLECTION, whole=True).data == again
    assert strip(again).data == renamed(data)


@settings(max_examples=60, deadline=None)
@given(data=scores(), wanted=plans(), choice=st.data())
def test_a_swap_and_back_in_an_edited_score(data, wanted, choice):
    placed = renamed(place(data, wanted, COLLECTION).data)
    old = choice.draw(st.sampled_from(sorted({wish.sonority for wish in wanted})))
    there = swap(placed, old, TEAL).placed.data
    back = swap(there, "teal", COLLECTION[old]).placed.data
    assert outline(back) == outline(placed)
    assert strip(there).data == strip(back).data == renamed(data)

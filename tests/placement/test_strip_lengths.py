"""Taking out of an edited score what lasted as long as was said, and what stood on grace notes."""

import pytest

from reedchord.collection import Collection
from reedchord.errors import RequestError
from reedchord.musicxml.document import read_score
from reedchord.placement.found import State, find_placements
from reedchord.placement.place import place
from reedchord.placement.strip import strip
from samples import BAR_REST, COLLECTION, RESTS, at, events, note, score, sonority
from truth.musicxml_schema import schema_errors

BARS_OF_REST = score(BAR_REST.format(4), BAR_REST.format(4), BAR_REST.format(4))


def edited(data: bytes) -> bytes:
    return data.replace(b"Alto Saxophone", b"Alto Saxophone 1")


def placed(data, *wishes):
    """Place in a score that is edited then, and see that each chord is found as it was placed."""
    result = place(data, wishes, COLLECTION)
    score = read_score(edited(result.data))
    found = find_placements(score, result.record)
    assert {one.state for one in found} == {State.INTACT}
    assert [one.row_now() for one in found] == list(result.record.placements)
    assert place(edited(result.data), wishes, COLLECTION, whole=True).data == edited(result.data)
    return edited(result.data)


@pytest.mark.parametrize(
    "wish",
    [
        at(1, 2, lasting="half"),
        at(1, 3, lasting="whole"),
        at(1, 1, lasting="to bar 3 beat 2"),
        at(2, "1.5", lasting="eighth"),
    ],
)
@pytest.mark.parametrize("data", [RESTS, BARS_OF_REST])
def test_part_of_rests_is_silent_again(data, wish):
    done = strip(placed(data, wish))
    assert (done.count, done.stay, done.left) == (1, 0, ())
    assert done.data == edited(data)
    for bar in (1, 2, 3):
        music = events(done.data, bar)
        assert all(event.is_rest for event in music)
        assert sum(event.duration_quarters for event in music) == 4
    assert b"footnote" not in done.data
    assert b"<tie" not in done.data
    assert schema_errors(done.data) == []


TIE = '<tie type="{0}"/>'
TIED = '<notations><tied type="{0}"/><articulations/></notations></note>'
HELD = score(
    note("C5", 4, type_="whole", more=TIE.format("start")).replace("</note>", TIED.format("start")),
    note("C5", 4, type_="whole", more=TIE.format("stop")).replace("</note>", TIED.format("stop")),
)
RISING = sonority("rising", "E4", "C5", "G5+60", build_up=[1, 2, 3])
WITH_ORDER = Collection({**COLLECTION.sonorities, "rising": RISING}, {}, "samples")


@pytest.mark.parametrize(
    ("data", "wish"),
    [
        (BARS_OF_REST, at(1, 2, lasting="half")),
        (BARS_OF_REST, at(1, 3, lasting="whole")),
        (score(note("C5", 4, type_="whole")), at(1, lasting="half")),
        (score(note("C5", 4, type_="whole")), at(1, name="rising", build_up=True)),
        (score(note("C5", 4, type_="whole")), at(1, name="rising", fade=True, lasting="half.")),
        (HELD, at(1, lasting="whole+half")),
        (HELD, at(1, name="rising", build_up=True)),
    ],
)
def test_what_was_divided_is_whole_again(data, wish):
    result = place(data, [wish], WITH_ORDER)
    found = find_placements(read_score(edited(result.data)), result.record)
    assert [one.words() for one in found if one.state is not State.INTACT] == []
    assert strip(edited(result.data)).data == edited(data)


def test_where_something_else_was_written_into_the_rest_that_was_left_the_chord_stays():
    cut = placed(score(note("C5", 4, type_="whole")), at(1, lasting="half"))
    taken = cut.replace(b"<rest/>", b"<pitch><step>D</step><octave>5</octave></pitch>")
    with pytest.raises(RequestError, match="the record does not hold what stood there"):
        strip(taken)


def test_where_something_else_was_written_beside_it_a_rest_comes_back_where_the_chord_is():
    taken = placed(BARS_OF_REST, at(1, 1, lasting="half")).replace(
        b"<rest/>", b"<pitch><step>D</step><octave>5</octave></pitch>", 1
    )
    music = events(strip(taken).data)
    assert [event.is_rest for event in music] == [True, False]
    assert [event.duration_quarters for event in music] == [2, 2]


@pytest.mark.parametrize(
    "wish",
    [
        at(1, dynamics="mf"),
        at(1, name="rising", build_up=True, dynamics="p < f"),
        at(1, name="egret", build_up=True, fade=True, order=[1, 2], dynamics="p < f > pp"),
    ],
)
def test_dynamics_go_with_the_chord(wish):
    data = score(note("C5", 4, type_="whole"))
    once = place(data, [wish], WITH_ORDER).data
    assert b"<dynamics>" in once
    done = strip(edited(once))
    assert (done.data, done.left) == (edited(data), ())


def test_dynamics_that_somebody_changed_stay_and_are_told():
    wish = at(1, name="rising", build_up=True, dynamics="p < f")
    once = place(score(note("C5", 4, type_="whole")), [wish], WITH_ORDER).data
    done = strip(once.replace(b"<f/>", b"<ff/>"))
    assert b"<ff/>" in done.data
    assert done.left == (
        "part P1 (Alto Saxophone), bar 1, beat 1: dynamics that were changed or moved stay",
    )


def test_what_was_placed_later_into_the_rest_that_was_left_makes_room_again():
    data = score(note("C5", 4, type_="whole"))
    cut = placed(data, at(1, lasting="half"))
    both = place(cut, [at(1, 3, "egret", lasting="quarter")], COLLECTION).data
    assert [event.is_rest for event in events(both)] == [False, False, True]
    done = strip(both)
    assert (done.data, done.left) == (edited(data), ())


SLASHED = '<grace slash="yes"/>'
GRACE = note("D5", type_="eighth").replace("<duration>1</duration>", "")
GRACES = score(
    note("C5")
    + GRACE.replace("<note>", f"<note>{SLASHED}")
    + GRACE.replace("<note>", f"<note>{SLASHED}").replace("<step>D", "<step>F")
    + note("E5")
    + note() * 2
)


@pytest.mark.parametrize(
    "wishes",
    [
        [at(1, 2, grace=2)],
        [at(1, 2, grace=1), at(1, 2, name="egret"), at(1, 2, grace=2)],
    ],
)
def test_grace_notes_come_back(wishes):
    assert strip(placed(GRACES, *wishes)).data == edited(GRACES)


def test_a_multi_bar_rest_stays_divided_and_that_is_told():
    rest = (
        "<attributes><measure-style><multiple-rest>3</multiple-rest></measure-style></attributes>"
    )
    bars = score(BAR_REST.format(4), BAR_REST.format(4), BAR_REST.format(4), BAR_REST.format(4))
    bars = bars.replace(b'<measure number="2">', f'<measure number="2">{rest}'.encode())
    done = strip(placed(bars, at(3)))
    assert done.left == (
        "part P1 (Alto Saxophone 1), bar 3, beat 1: the multi-bar rest stays divided",
    )
    assert all(event.is_rest for event in events(done.data, 3))

"""A plan is the whole of a score's placements: applied again, changed, in any order."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reedchord.errors import RequestError, SeveralErrors, Where
from reedchord.placement.held_plan import held_plan
from reedchord.placement.place import place
from reedchord.placement.plan import parse_plan
from reedchord.placement.strip import strip
from reedchord.placement.style import Shown, Style
from samples import COLLECTION, RESTS, at, events, shown


def planned(data, placements, style=None):
    return place(data, placements, COLLECTION, style, whole=True)


FIRST = [at(1, 2), at(2, 1, "egret"), at(3, 4)]


def test_the_same_plan_again_changes_nothing():
    once = planned(RESTS, FIRST).data
    assert planned(once, FIRST).data == once


def test_what_is_no_longer_in_the_plan_goes_and_is_told():
    once = planned(RESTS, FIRST).data
    again = planned(once, FIRST[:2])
    assert again.data == planned(RESTS, FIRST[:2]).data
    assert "part P1 (Alto Saxophone)" not in again.data.decode()
    assert [s for s in again.warnings if "taken out" in s] == [
        "part P1 (Alto Saxophone), bar 3, beat 4: heron is taken out, it is not in the plan"
    ]


def test_a_single_placement_comes_beside_those_that_are_there():
    once = planned(RESTS, FIRST[:2]).data
    assert place(once, FIRST[2:], COLLECTION).data == planned(RESTS, FIRST).data


def test_a_plan_without_a_style_has_the_usual_one_whatever_was_there():
    plain = Style(cents=Shown.NEVER, source=Shown.NEVER)
    once = planned(RESTS, FIRST, plain).data
    assert planned(once, FIRST).data == planned(RESTS, FIRST).data


def test_an_empty_plan_is_refused():
    with pytest.raises(RequestError, match="no placement") as wrong:
        planned(planned(RESTS, FIRST).data, [])
    assert wrong.value.code == "place.nothing"
    assert "reedchord strip" in str(wrong.value)


def test_all_mistakes_are_told_together_with_their_lines():
    wrong = [at(9), at(1, 7), at(2, 1, "hern"), at(1, 2), at(1, 2, "egret")]
    rows = [(one, Where(path="plan.yaml", line=line)) for line, one in enumerate(wrong, start=4)]
    with pytest.raises(SeveralErrors) as caught:
        planned(RESTS, rows)
    told = {error.where.line: error.code for error in caught.value.errors}
    assert told == {
        4: "score.no-such-bar",
        5: "address.no-such-beat",
        6: "collection.no-such-sonority",
        8: "placement.twice",
    }


def test_the_plan_that_a_score_holds_gives_the_same_score():
    once = planned(RESTS, FIRST, Style(cents=Shown.ALWAYS)).data
    plan = parse_plan(held_plan(once))
    assert planned(RESTS, plan.placements, plan.style).data == once
    assert planned(once, plan.placements, plan.style).data == once


def test_the_plan_of_a_score_with_a_new_bar_follows_its_chords():
    bar = b'<measure number="1a"><note><rest/><duration>4</duration></note></measure>'
    once = planned(RESTS, FIRST).data
    moved = once.replace(b'<measure number="2">', bar + b'<measure number="2">')
    placements = [placement for placement, _ in parse_plan(held_plan(moved)).placements]
    assert [placement.bar for placement in placements] == ["@1", "@3", "@4"]


def test_the_plan_of_an_edited_score_says_what_was_edited():
    once = planned(RESTS, FIRST).data.replace(b"<step>G</step>", b"<step>A</step>", 1)
    text = held_plan(once)
    assert text.startswith("# part P1 (Alto Saxophone), bar 1, beat 2: M1 is edited (G♯5 is gone")
    assert len(parse_plan(text).placements) == 3


def edited(data):
    return data.replace(b"Alto Saxophone", b"Alto Saxophone 1")


def test_in_an_edited_score_the_plan_is_the_whole_too():
    once = edited(planned(RESTS, FIRST).data)
    assert planned(once, FIRST).data == once
    changed = [at(1, 2, "egret"), at(2, 1, "egret")]
    again = planned(once, changed)
    assert shown(events(again.data, 1)[1]) == ["C#4", "A4"]
    assert all(event.is_rest for event in events(again.data, 3))
    assert [row.wish.sonority for row in again.record.placements] == ["egret", "egret"]
    assert strip(again.data).data == edited(RESTS)
    assert planned(again.data, changed).data == again.data


def test_a_chord_that_was_edited_stays_although_the_plan_does_not_name_it():
    once = planned(RESTS, FIRST).data.replace(b"<step>G</step>", b"<step>A</step>", 1)
    again = planned(once, FIRST[1:])
    assert shown(events(again.data, 1)[1]) == ["E4", "Bqf4", "A#5"]
    assert any("M1 is edited" in sentence for sentence in again.warnings)


_PLACES = [(bar, beat) for bar in (1, 2, 3) for beat in (1, 2, 3, 4)]
_WISHES = st.builds(
    lambda place, name, manner, tones, emphasised: at(
        *place, name, manner=manner, tones=tones, emphasised=emphasised
    ),
    st.sampled_from(_PLACES),
    st.sampled_from(["heron", "egret", "crane"]),
    st.sampled_from(["ordinary", "slap", "very soft"]),
    st.sampled_from([None, (1, 2)]),
    st.sampled_from([None, 1, 2]),
)
_PLANS = st.lists(_WISHES, min_size=1, max_size=5, unique_by=lambda wish: (wish.bar, wish.beat))


@settings(max_examples=60, deadline=None)
@given(plan=_PLANS, data=st.data())
def test_the_order_of_a_plan_does_not_matter(plan, data):
    other = data.draw(st.permutations(plan))
    assert planned(RESTS, plan).data == planned(RESTS, other).data


@settings(max_examples=60, deadline=None)
@given(before=_PLANS, after=_PLANS, is_edited=st.booleans())
def test_a_changed_plan_gives_what_it_gives_on_the_original(before, after, is_edited):
    once = planned(RESTS, before).data
    if not is_edited:
        assert planned(once, after).data == planned(RESTS, after).data
        return
    again = planned(edited(once), after).data
    fresh = planned(edited(RESTS), after).data
    for bar in (1, 2, 3):
        assert [shown(event) for event in events(again, bar)] == [
            shown(event) for event in events(fresh, bar)
        ]
    assert strip(again).data == edited(RESTS)

"""One sonority for another: what is kept, what is dropped, and the way back."""

import pytest

from reedchord.collection import Collection
from reedchord.errors import RequestError
from reedchord.placement.place import place
from reedchord.placement.swap import SwapPlaces, swap
from reedchord.placement.swap_report import swap_report
from samples import BITTERN, COLLECTION, EGRET, RESTS, at, events, shown, sonority

TEAL = sonority("teal", "E4", "C5", "G5+60", fingering="left 1 2 | right 1 2 3")
"""Its outer tones lie near those of the heron."""
WITH_TEAL = Collection({**COLLECTION.sonorities, "teal": TEAL}, {}, "samples")
THREE = place(RESTS, [at(1, 2), at(2, 1, "egret"), at(3, 4, manner="slap")], COLLECTION)


def test_everywhere_and_back_again():
    there = swap(THREE.data, "heron", TEAL)
    assert [one.where.bar for one in there.swaps] == ["1", "3"]
    assert (
        there.placed.data
        == place(
            RESTS, [at(1, 2, "teal"), at(2, 1, "egret"), at(3, 4, "teal", manner="slap")], WITH_TEAL
        ).data
    )
    assert swap(there.placed.data, "teal", COLLECTION["heron"]).placed.data == THREE.data


@pytest.mark.parametrize(
    "places", [SwapPlaces(bar="3"), SwapPlaces(bar="@3"), SwapPlaces(part="P1", bar="3")]
)
def test_at_one_place_only(places):
    there = swap(THREE.data, "heron", TEAL, places)
    labels = [(row.label, row.wish.sonority) for row in there.placed.record.placements]
    assert labels == [("M1", "heron"), ("M2", "egret"), ("M3", "teal")]
    assert swap(there.placed.data, "M3", COLLECTION["heron"]).placed.data == THREE.data


def test_a_label_names_what_goes():
    there = swap(THREE.data, "M2", TEAL)
    assert [(one.old.id, one.new.id) for one in there.swaps] == [("egret", "teal")]
    limited = swap(THREE.data, "egret", TEAL, SwapPlaces(label="M2"))
    assert limited.placed.data == there.placed.data


def test_labels_are_counted_anew():
    there = swap(THREE.data, "heron", COLLECTION["egret"])
    assert {row.label for row in there.placed.record.placements} == {"M1"}
    assert [one.old_label for one in there.swaps] == ["M1", "M1"]


def test_tones_that_have_a_counterpart_stay_wished_for():
    placed = place(RESTS, [at(1, tones=[1, "G#5"], emphasised="G#5")], COLLECTION)
    there = swap(placed.data, "heron", TEAL)
    (row,) = there.placed.record.placements
    assert (row.wish.tones, row.wish.emphasised) == ((1, 3), 3)
    assert there.swaps[0].dropped == ()
    assert swap(there.placed.data, "teal", COLLECTION["heron"]).placed.data == placed.data


def test_what_makes_no_sense_is_dropped_and_told_and_comes_back():
    placed = place(RESTS, [at(1, tones=[1, 3], emphasised=3)], COLLECTION)
    there = swap(placed.data, "heron", EGRET)
    only, emphasised = there.swaps[0].dropped
    assert "only E4 −19¢ and G♯5 −12¢: dropped" in only
    assert "G♯5 −12¢ emphasised: dropped" in emphasised
    assert len(events(there.placed.data)[0].notes) == 2
    assert swap(there.placed.data, "egret", COLLECTION["heron"]).placed.data == placed.data


def test_through_a_third_sonority_and_back():
    placed = place(RESTS, [at(1, tones=[1, 3], emphasised=3)], COLLECTION)
    there = swap(placed.data, "heron", TEAL).placed.data
    further = swap(there, "teal", EGRET).placed.data
    assert swap(further, "egret", TEAL).placed.data == there
    assert swap(there, "teal", COLLECTION["heron"]).placed.data == placed.data


RISING = sonority("rising", "E4", "C5", "G5+60", build_up=[1, 2, 3], emphasised=2)
FALLING = sonority("falling", "C4", "D5", build_up=[2, 1])
WITH_ORDER = Collection({"rising": RISING, "falling": FALLING}, {}, "samples")


def test_a_build_up_is_kept_where_the_new_sonority_has_an_order_of_its_own():
    wish = at(1, 1, "rising", build_up=True, lasting="whole", steps=["quarter", "quarter", "half"])
    placed = place(RESTS, [wish], WITH_ORDER)
    there = swap(placed.data, "rising", FALLING)
    (row,) = there.placed.record.placements
    assert (row.wish.build_up, row.wish.steps) == (True, None)
    (sentence,) = there.swaps[0].dropped
    assert sentence.startswith("the lengths of its steps: dropped, the steps last")
    assert swap(there.placed.data, "falling", RISING).placed.data == placed.data


@pytest.mark.parametrize("wish", [{"bring_out": True}, {"build_up": True, "order": [2, 1, 3]}])
def test_a_course_that_the_new_sonority_cannot_have_is_dropped_and_comes_back(wish):
    placed = place(RESTS, [at(1, 1, "rising", lasting="whole", **wish)], WITH_ORDER)
    there = swap(placed.data, "rising", EGRET)
    assert "build-up, fade and bringing out: dropped" in there.swaps[0].dropped[-1]
    assert not there.placed.record.placements[0].wish.unfolds
    assert swap(there.placed.data, "egret", RISING).placed.data == placed.data


def test_the_sonority_that_takes_turns_is_swapped_too():
    placed = place(RESTS, [at(1, 1, "egret"), at(2, lasting="whole", tremolo="egret")], COLLECTION)
    there = swap(placed.data, "egret", TEAL)
    assert [(one.where.bar, one.old.id, one.new.id) for one in there.swaps] == [
        ("1", "egret", "teal"),
        ("2", "egret", "teal"),
    ]
    assert there.placed.record.placements[1].wish.tremolo == "teal"
    assert swap(there.placed.data, "teal", EGRET).placed.data == placed.data
    with pytest.raises(RequestError, match="cannot alternate with itself"):
        swap(placed.data, "heron", EGRET)


def test_a_sonority_of_another_saxophone_is_carried_on_request():
    with pytest.raises(RequestError, match="--carry"):
        swap(THREE.data, "egret", BITTERN)
    there = swap(THREE.data, "egret", BITTERN, carry=True)
    assert there.swaps[0].new.id == "bittern-on-alto"
    for name in ("bittern", "bittern-on-alto"):
        assert swap(there.placed.data, name, EGRET).placed.data == THREE.data


@pytest.mark.parametrize(
    ("old", "new", "places", "code"),
    [
        ("hern", TEAL, None, "swap.not-there"),
        ("heron", TEAL, SwapPlaces(bar="2"), "swap.not-here"),
        ("heron", COLLECTION["heron"], None, "swap.same"),
        ("heron", TEAL, SwapPlaces(part="Oboe"), "score.no-such-part"),
    ],
)
def test_what_cannot_be_swapped_is_told(old, new, places, code):
    with pytest.raises(RequestError) as wrong:
        swap(THREE.data, old, new, places)
    assert wrong.value.code == code


def test_what_changes_for_the_player_is_told():
    (told,) = swap_report(swap(THREE.data, "heron", TEAL))
    assert told.startswith("M1 heron becomes M1 teal at 2 places:\n    part P1")
    assert "from the former, three fingers" in told
    assert "G♯5 −12¢ becomes G5 +60¢" not in told  # 28 cents apart, but spelled as a semitone up
    assert "B♭4 +64¢ goes" in told or "B4 −36¢ goes" in told


def edited(data):
    return data.replace(b"Alto Saxophone", b"Alto Saxophone 1")


def test_in_an_edited_score_what_is_intact_is_swapped():
    there = swap(edited(THREE.data), "heron", TEAL)
    assert shown(events(there.placed.data, 1)[1]) == shown(
        events(swap(THREE.data, "heron", TEAL).placed.data, 1)[1]
    )
    assert [row.label for row in there.placed.record.placements] == ["M2", "M1", "M1"]
    assert b"Alto Saxophone 1" in there.placed.data
    assert there.left == ()


def test_an_edited_chord_is_not_swapped_but_told():
    data = THREE.data.replace(b"<step>G</step>", b"<step>A</step>", 1)
    there = swap(data, "heron", TEAL)
    (sentence,) = there.left
    assert "bar 1, beat 2: M1 is edited (G♯5 is gone; A♯5 is new)" in sentence
    assert [one.where.bar for one in there.swaps] == ["3"]
    with pytest.raises(RequestError, match="G♯5 is gone") as wrong:
        swap(data, "heron", TEAL, SwapPlaces(bar="1"))
    assert wrong.value.code == "swap.edited"

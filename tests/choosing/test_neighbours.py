"""Documented neighbours in both directions, and computed ones apart from them."""

from __future__ import annotations

from reedchord.choosing.neighbours import neighbours_of
from reedchord.choosing.neighbours_report import neighbours_data, neighbours_text
from reedchord.collection import Collection
from samples import sonority

GREBE = sonority(
    "grebe",
    "E4",
    fingering="left 1 2 3 | right 1 2 3, E flat",
    neighbours=[
        {"sonority": "coot", "because": "embouchure", "note": "same air"},
        {"sonority": "rail", "because": "fingers"},
        {"sonority": "flown-away", "because": "fingers"},
    ],
)
COOT = sonority("coot", "F4", fingering="left 2")
RAIL = sonority("rail", "F4", saxophone="tenor", fingering="left 2")
TEAL = sonority(
    "teal",
    "D4",
    fingering="left 1 2 3 | right 1 2 3",
    neighbours=[{"sonority": "grebe", "because": "fingers and embouchure"}],
)
SMEW = sonority("smew", "D4", fingering="left 1")
KNOT = sonority("knot", "D4", fingering="left 1 2 3 | right 1 2 3, low C")
BIRDS = Collection(
    {record.id: record for record in (GREBE, COOT, RAIL, TEAL, SMEW, KNOT)}, {}, "birds"
)


def test_documented_in_both_directions_best_reason_first():
    found = neighbours_of(GREBE, BIRDS)
    assert [near.id for near in found.documented] == ["teal", "flown-away", "rail", "coot"]
    assert [said.by for said in found.documented[0].statements] == ["teal"]
    assert [near.id for near in neighbours_of(COOT, BIRDS).documented] == ["grebe"]


def test_computed_are_of_the_same_saxophone_and_ranked():
    found = neighbours_of(GREBE, BIRDS)
    assert [near.sonority.id for near in found.computed] == ["knot", "smew"]
    assert found.computed[0].change.words.endswith("slides from E flat to low C")
    assert not neighbours_of(RAIL, BIRDS).computed


def test_text_keeps_documented_and_computed_apart():
    text = neighbours_text(neighbours_of(GREBE, BIRDS), most=1)
    documented, computed = text.split("Computed, easiest first, the 1 easiest of 2")
    assert "embouchure (listed here): same air" in documented
    assert "teal lists grebe" in documented
    assert "not in this collection" in documented
    assert "for another saxophone: tenor" in documented
    assert "knot" in computed
    assert "smew" not in computed
    assert "a trial has the last word" in " ".join(computed.split())


def test_text_says_where_there_is_nothing():
    text = neighbours_text(neighbours_of(SMEW, Collection({"smew": SMEW}, {}, "one")), most=8)
    assert "Documented: none" in text
    assert "Computed: none" in text


def test_data_for_programs():
    data = neighbours_data(neighbours_of(GREBE, BIRDS), most=8)
    assert data["documented"][-1] == {
        "sonority": "coot",
        "in_collection": True,
        "statements": [{"by": "grebe", "because": "embouchure", "note": "same air"}],
        "change": data["documented"][-1]["change"],
    }
    assert [near["sonority"] for near in data["computed"]] == ["knot", "smew"]
    assert data["computed"][0]["change"]["grade"] == "easy"

"""The same concert sounds on another saxophone. Intervals are counted by hand.

Alto sounds a major sixth lower than written, tenor a major ninth (common practice, no source):
written D5 for alto and G5 for tenor are both F4.
"""

from __future__ import annotations

import pytest

from reedchord.choosing.same_sounds import same_sounds
from reedchord.choosing.same_sounds_text import same_sounds_data, same_sounds_text
from reedchord.collection import Collection
from reedchord.errors import RequestError
from reedchord.saxophones import saxophone
from samples import sonority

HERON = sonority("heron", "D5-20", "A5+10", evidence="tried", set_up="Wren, alto")
TERN = sonority("tern", "G5-15", "D6", saxophone="tenor", evidence="documented",
    source={"id": "log", "entry": {"id": "log", "type": "book", "title": "Log"}})  # fmt: skip
GULL = sonority("gull", "G5-20", saxophone="tenor")
CRANE = sonority("crane", "D5-20", "A5+10")
ENGINE = sonority("engine", "A3", saxophone="baritone", fingering="low A | left 1 2 3")
BIRDS = Collection({one.id: one for one in (HERON, TERN, GULL, CRANE, ENGINE)}, {}, "birds")
TENOR, ALTO = saxophone("tenor"), saxophone("alto")


def test_the_nearest_on_the_other_saxophone_stand_beside_the_carried_fingering():
    same = same_sounds(BIRDS, HERON, TENOR)
    assert [one.sonority.id for one in same.found.fitting] == ["tern", "gull"]
    assert [meeting.cents for meeting in same.found.fitting[0].met] == [5, -10]
    assert [str(pitch) for pitch in same.carried.concert] == ["C4-20", "G4+10"]
    assert same.carried_judged.cost > same.found.fitting[0].cost


def test_text_shows_the_evidence_of_both():
    text = same_sounds_text(same_sounds(BIRDS, HERON, TENOR), most=1)
    assert text.startswith("The concert sounds of heron on tenor saxophone\n")
    assert "Carried: the same fingering, cost" in text
    assert "only a guess" in text
    assert "1.  tern: tern, tenor saxophone, documented; cost" in text
    assert "gull" not in text


def test_text_says_where_the_fingering_does_not_exist():
    same = same_sounds(BIRDS, ENGINE, ALTO)
    assert same.carried_judged is None
    text = same_sounds_text(same, most=3)
    assert "Carried: cannot be fingered, there is no low A key" in text
    assert "The nearest:" in text


def test_what_is_for_other_saxophones_is_no_answer():
    same = same_sounds(BIRDS, GULL, ALTO)
    assert [one.sonority.id for one in same.found.fitting] == ["crane", "heron"]
    near = same_sounds_data(same_sounds(BIRDS, HERON, saxophone("baritone")), most=3)
    assert [one["sonority"] for one in near["in_collection"]["nearest"]] == ["engine"]
    assert near["in_collection"]["searched"] == 1


def test_text_says_where_the_collection_has_nothing_for_the_saxophone():
    text = same_sounds_text(same_sounds(BIRDS, HERON, saxophone("bass")), most=3)
    assert text.endswith("In the collection\nThere is no sonority for bass saxophone.\n")


def test_data_for_programs():
    data = same_sounds_data(same_sounds(BIRDS, HERON, TENOR), most=1)
    assert (data["sonority"], data["evidence"]) == ("heron-on-tenor", "carried")
    assert [one["sonority"] for one in data["in_collection"]["results"]] == ["tern"]
    assert data["in_collection"]["results"][0]["evidence"] == "documented"
    assert data["near"]["missing"][0]["wish"] == "F4-20"


def test_its_own_saxophone_is_refused():
    with pytest.raises(RequestError, match="for alto saxophone already"):
        same_sounds(BIRDS, HERON, ALTO)

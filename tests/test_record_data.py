"""Records as plain data, against the serialisers that pydantic builds for them."""

import pytest

from generated import generated_collection
from reedchord.collection_reading import read_collection
from reedchord.demo_paths import COLLECTION, PLAN, shipped_path
from reedchord.placement.place import place
from reedchord.placement.plan import read_plan
from reedchord.placement.record import ScoreRecord, record_text
from reedchord.record_data import plain_data
from samples import BAR_REST, BITTERN, CRANE, EGRET, HERON, at, score
from samples import COLLECTION as SAMPLES

DEMO = read_collection(shipped_path(COLLECTION))
RECORDS = [
    *DEMO, *DEMO.sources.values(), HERON, EGRET, BITTERN, CRANE, *generated_collection(20)
]  # fmt: skip
PLACED = [
    at(1, tremolo="egret", tones=[1, 2], emphasised="E4-19"),
    at(
        2,
        build_up=True,
        order=[2, 1, 3],
        steps=["quarter", "quarter"],
        dynamics="pp < f",
        slur=True,
    ),
    at(3, name="egret", lasting="half", manner="slap"),
]


def by_pydantic(record):
    return record.model_dump(mode="json", by_alias=True, exclude_defaults=True)


@pytest.mark.parametrize("record", RECORDS, ids=lambda record: record.id)
def test_a_record_of_a_collection(record):
    assert plain_data(record) == by_pydantic(record)


@pytest.mark.parametrize("placement", [row for row, _ in read_plan(shipped_path(PLAN)).placements])
def test_a_placement_of_a_plan(placement):
    assert plain_data(placement) == by_pydantic(placement)


def test_the_record_of_a_score_is_what_pydantic_would_make_and_read():
    bars = score(*[BAR_REST.format(4)] * 3)
    record = place(bars, PLACED, SAMPLES).record
    assert plain_data(record) == by_pydantic(record)
    assert ScoreRecord.model_validate_json(record_text(record)) == record

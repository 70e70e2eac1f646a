"""Packed collections give back what was packed, without validating and a batch at a time."""

from __future__ import annotations

import copy
import os
import pickle
import subprocess
import sys
from fractions import Fraction
from pathlib import Path

import pytest
from pydantic import BaseModel, ValidationError

from generated import generated_collection
from reedchord import packed_records
from reedchord.collection_cache import cached_collection
from reedchord.collection_reading import read_collection
from reedchord.demo_paths import COLLECTION, shipped_path
from reedchord.packed_records import BATCH, packed, unpacked
from reedchord.saxophones import FAMILY
from reedchord.sonority import Sonority
from reedchord.source import Citation, Source

SOURCES = Path(__file__).parents[1] / "src"


@pytest.fixture(scope="module")
def band():
    return read_collection(shipped_path(COLLECTION))


@pytest.fixture(scope="module")
def many():
    return generated_collection(3 * BATCH + 5)


def parts_of(part):
    """Yield a part of a record and all that it consists of, with their kinds."""
    yield type(part), part
    if isinstance(part, BaseModel):
        inner = [*vars(part).items(), part.model_fields_set, part.model_extra]
        inner += [part.__pydantic_private__]
    elif isinstance(part, dict):
        inner = [*part.items()]
    elif isinstance(part, tuple | list):
        inner = part
    elif hasattr(part, "__dataclass_fields__"):
        inner = [*vars(part).items()]
    else:
        return
    for one in inner:
        yield from parts_of(one)


def test_every_part_is_of_its_kind_and_equal(band):
    again = unpacked(packed(band))
    assert again == band
    assert (again.origin, again.warnings) == (band.origin, band.warnings)
    for before, after in zip(band, again, strict=True):
        assert list(parts_of(after)) == list(parts_of(before))
    assert list(parts_of(dict(again.sources))) == list(parts_of(dict(band.sources)))


def test_they_are_records_as_any_other(band):
    for before, after in zip(band, unpacked(packed(band)), strict=True):
        assert hash(after.fingering) == hash(before.fingering)
        assert repr(after) == repr(before)
        assert after.model_dump(exclude_unset=True) == before.model_dump(exclude_unset=True)
        assert Sonority.model_validate(after.model_dump(by_alias=True)) == before
        assert copy.deepcopy(after) == pickle.loads(pickle.dumps(after)) == before
        renamed = after.model_copy(update={"name": "Other water"})
        assert renamed.name == "Other water" != after.name
        with pytest.raises(ValidationError, match="frozen"):
            after.name = "Other water"


def test_order_ids_and_size(many):
    again = unpacked(packed(many))
    assert list(again.sonorities) == list(many.sonorities)
    assert [record.id for record in again] == list(many.sonorities)
    assert len(again) == len(many)
    assert "s7" in again
    assert "heron" not in again
    with pytest.raises(KeyError):
        again.sonorities["heron"]
    assert again == many


def test_an_empty_collection():
    empty = generated_collection(0)
    assert unpacked(packed(empty)) == empty


def test_only_the_batch_that_is_asked_for_is_made_and_once(many, monkeypatch):
    made = []
    records_of = packed_records._records_of

    def counted(data, apart):
        records = records_of(data, apart)
        made.append(len(records))
        return records

    monkeypatch.setattr(packed_records, "_records_of", counted)
    again = unpacked(packed(many))
    del made[:]
    last = again["s196"]
    assert made == [5]
    assert again["s196"] is last
    assert again["s192"].id == "s192"
    assert made == [5]
    assert list(again)[196] is last
    assert sorted(made) == [5, BATCH, BATCH, BATCH]


def test_what_is_equal_is_there_once(band):
    again = unpacked(packed(band))
    kept = {}
    for record in again:
        for kind, part in parts_of((record.tones, record.source)):
            if kind in (Fraction, Citation, Source):
                assert kept.setdefault((kind, str(part)), part) is part
    cited = [record.source.entry for record in again]
    assert all(again.sources[entry.id] is entry for entry in cited)
    assert all(record.saxophone is FAMILY[record.saxophone.name] for record in again)


def test_equal_numbers_of_other_kinds_stay_what_they_are():
    once = packed_records._Once({})
    for given in (1, True, Fraction(1), 1.0, "1", (1,), (True,), (Fraction(1),), {1: 1}, {1: True}):
        found = once.of(given)
        assert list(parts_of(found)) == list(parts_of(given))
        assert once.of(copy.deepcopy(given)) is found


def test_nothing_is_validated_again(tmp_path):
    """A program that only reads what was kept never builds pydantic's validators."""
    file = tmp_path / "band.yaml"
    file.write_bytes(shipped_path(COLLECTION).read_bytes())
    cached_collection(file)
    code = (
        "import sys\n"
        "from reedchord.collection_cache import cached_collection\n"
        "from reedchord.sonority import Sonority\n"
        "records = list(cached_collection(sys.argv[1]))\n"
        "assert len(records) == 16 and records[0].concert_pitches\n"
        "sys.exit(bool(Sonority.__pydantic_complete__))\n"
    )
    environment = os.environ | {"PYTHONPATH": str(SOURCES)}
    command = [sys.executable, "-c", code, str(file)]
    assert subprocess.run(command, env=environment, check=False).returncode == 0


@pytest.mark.parametrize("forged", [print, subprocess.run, Path, BaseModel])
def test_a_forged_batch_makes_nothing_but_records(band, monkeypatch, forged):
    again = unpacked(packed(band))
    again.sonorities._batches[:] = [pickle.dumps(forged)]
    with pytest.raises(pickle.UnpicklingError, match="is no part of a collection"):
        again["alto-slack-water"]

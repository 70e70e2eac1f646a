"""Tables kept beside kept collections: the same as made ones, and never stale."""

from __future__ import annotations

import hashlib
from dataclasses import fields, replace

import numpy as np
import pytest

from reedchord.choosing import search, table_columns
from reedchord.choosing.search_wish import Wish
from reedchord.choosing.table_file import keep_table, kept_table
from reedchord.collection_cache import cached_collection
from reedchord.demo_paths import COLLECTION, shipped_path
from reedchord.kept_files import cache_folder
from reedchord.pitch import parse_pitch


@pytest.fixture
def band(tmp_path):
    """Return a function that reads a file again, as another program would."""
    file = tmp_path / "band.yaml"
    file.write_bytes(shipped_path(COLLECTION).read_bytes())
    cached_collection(file)
    return lambda: cached_collection(file)


def _tables():
    return sorted(cache_folder().glob("*.tones"))


def _same(one, other):
    for field in fields(one):
        mine, its = getattr(one, field.name), getattr(other, field.name)
        if isinstance(mine, np.ndarray):
            assert mine.dtype == its.dtype
            assert mine.tolist() == its.tolist()
    for field in fields(one.limits):
        mine, its = getattr(one.limits, field.name), getattr(other.limits, field.name)
        assert list(map(list, np.atleast_2d(mine))) == list(map(list, np.atleast_2d(its)))
    assert tuple(one.records) == tuple(other.records)


def test_a_kept_table_is_the_one_that_was_made(band):
    made = table_columns.tone_table(band())
    assert len(_tables()) == 1
    collection = band()
    kept = kept_table(collection)
    _same(kept, table_columns.make_tone_table(tuple(collection)))
    _same(made, kept)


def test_a_search_over_a_kept_table_finds_the_same(band, monkeypatch):
    wish = Wish(pitches=(parse_pitch("F4"), parse_pitch("C5")))
    plain = search.find(band(), wish, most=5)
    monkeypatch.setattr(search, "MANY", 0)
    first, again = search.find(band(), wish, most=5), search.find(band(), wish, most=5)
    assert first == again == plain
    assert len(_tables()) == 1


def test_a_search_over_a_kept_table_makes_only_what_it_shows(band, monkeypatch):
    monkeypatch.setattr(search, "MANY", 0)
    monkeypatch.setattr("reedchord.packed_records.BATCH", 1)
    for entry in cache_folder().iterdir():
        entry.unlink()
    band()  # packed anew, each record by itself
    wish = Wish(pitches=(parse_pitch("F4"),))
    search.find(band(), wish, most=2)
    collection = band()
    search.find(collection, wish, most=2)
    assert len(collection.sonorities._made) == 2


def test_another_collection_has_another_table(band, tmp_path):
    table_columns.tone_table(band())
    file = tmp_path / "band.yaml"
    file.write_text(file.read_text("utf-8").replace("evidence: invented", "evidence: tried"))
    band()
    changed = band()
    assert kept_table(changed) is None
    table_columns.tone_table(changed)
    assert len(_tables()) == 2


def test_what_somebody_made_of_a_kept_collection_has_none(band):
    collection = band()
    table_columns.tone_table(collection)
    some = dict(list(collection.sonorities.items())[:3])
    assert kept_table(replace(collection, sonorities=some)) is None
    assert len(table_columns.tone_table(replace(collection, sonorities=some)).records) == 3


@pytest.mark.parametrize("left", [0, 31, 500, -9])
def test_a_damaged_table_is_made_anew(band, left):
    table = table_columns.tone_table(band())
    (entry,) = _tables()
    whole = entry.read_bytes()
    entry.write_bytes(whole[:left])
    assert kept_table(band()) is None
    _same(table_columns.tone_table(band()), table)
    assert kept_table(band()) is not None


@pytest.mark.parametrize("body", [b"", b"x", b"PK\x03\x04", b"PK\x05\x06" + bytes(18)])
def test_a_table_that_somebody_forged_is_passed_over(band, body):
    table_columns.tone_table(band())
    (entry,) = _tables()
    entry.write_bytes(hashlib.sha256(body).digest() + body)
    assert kept_table(band()) is None


def test_nothing_is_kept_where_the_cache_is_off(band, monkeypatch):
    collection = band()
    with monkeypatch.context() as patch:
        patch.setenv("REEDCHORD_CACHE", "off")
        keep_table(collection, table_columns.make_tone_table(tuple(collection)))
        assert kept_table(collection) is None
    assert not _tables()

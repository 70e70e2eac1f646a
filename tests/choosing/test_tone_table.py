"""The table behind searches in large collections: exact, made once, gone with its collection."""

from __future__ import annotations

import gc
import os
import subprocess
import sys
import weakref
from fractions import Fraction
from pathlib import Path

from reedchord.choosing import search, table_columns, tone_table
from reedchord.choosing.search_wish import Wish
from reedchord.collection import Collection
from reedchord.dynamics import Dynamic
from reedchord.pitch import parse_pitch
from reedchord.rhythm import parse_rate
from samples import BITTERN, CRANE, EGRET, HERON, sonority

SOURCES = Path(__file__).parents[2] / "src"


def _collection(*records):
    return Collection({record.id: record for record in records}, {}, "made")


def test_heights_are_exact_and_concert_is_written_moved():
    table = table_columns.make_tone_table((HERON, BITTERN))
    assert table.records == (BITTERN, HERON)  # in the order of ids
    cents = [[int(h) / tone_table.UNITS_PER_CENT for h in row] for row in table.concert]
    # Written E4-19 on alto sounds a major sixth lower; D4 on tenor a major ninth.
    assert cents[0] == [6200 - 1400, 6400 - 19 - 900]
    assert (table.written[:2] - table.concert[:2]).tolist() == [
        [1400 * tone_table.UNITS_PER_CENT, 900 * tone_table.UNITS_PER_CENT]
    ] * 2
    assert table.concert[2].tolist()[0] == tone_table.NO_TONE


def test_a_tone_between_the_units_is_judged_alone():
    odd = sonority("odd", "C4", tones=[{"concert": "C4+1/11"}, {"concert": "E5+1/7"}])
    assert table_columns.make_tone_table((odd, HERON)).off_grid.tolist() == [False, True]
    assert tone_table.whole_units(Fraction(1, 11)) is None
    assert tone_table.whole_units(Fraction("12.34")) == 310_968


def test_absent_tones_are_not_heard():
    faint = {"written": "C4", "presence": {"p": "faint"}}
    absent = {"written": "E5", "presence": {"p": "absent"}}
    soft = sonority("soft", tones=[faint, absent])
    table = table_columns.make_tone_table((soft,))
    heard = table.heard(Dynamic.P, written=True)
    assert (heard.heights[:, 0] != tone_table.NO_TONE).tolist() == [True, False]
    assert table.dynamics[:, 0].tolist() == [Dynamic.P.level, Dynamic.P.level]


def test_the_slowest_rate_that_is_fast_enough():
    limit = {"articulation": "slap", "fastest": "eighth at quarter = 60"}
    fast = sonority("fast", "C4", limits=[limit | {"fastest": "16th at quarter = 60"}])
    table = table_columns.make_tone_table((sonority("slow", "C4", limits=[limit]), fast, HERON))
    speeds = table.speeds(None, None)
    assert [record.id for record in table.records] == ["fast", "heron", "slow"]
    assert speeds.ranks.tolist() == [1, tone_table.UNKNOWN, 0]
    assert speeds.first_rank(parse_rate("eighth at quarter = 60")) == 0
    assert speeds.first_rank(parse_rate("eighth at quarter = 61")) == 1
    assert speeds.first_rank(None) == 0


def test_a_table_is_made_once_and_dies_with_its_collection():
    collection = _collection(HERON, EGRET)
    first = table_columns.tone_table(collection)
    assert table_columns.tone_table(collection) is first
    assert table_columns.tone_table(_collection(HERON, EGRET)) is not first
    made = weakref.ref(first)
    del collection, first
    gc.collect()
    assert made() is None


def test_a_collection_that_grew_has_another_table():
    collection = _collection(HERON)
    before = table_columns.tone_table(collection)
    collection.sonorities[CRANE.id] = CRANE
    assert len(table_columns.tone_table(collection).records) == 2
    assert len(before.records) == 1


def test_ties_go_by_id_and_counts_are_of_all(monkeypatch):
    monkeypatch.setattr(search, "MANY", 0)
    names = ["c", "a", "d", "b"]
    collection = _collection(*(sonority(name, "C4", "E5") for name in names))
    found = search.find(collection, Wish(pitches=(parse_pitch("Eb3"),)), most=2)
    assert [one.sonority.id for one in found.fitting] == ["a", "b"]
    assert (found.searched, found.fitting_count, found.complete) == (4, 4, 4)


def test_numpy_is_loaded_for_large_collections_only():
    code = (
        "import sys, reedchord.choosing.search, reedchord.cli.app; sys.exit('numpy' in sys.modules)"
    )
    environment = os.environ | {"PYTHONPATH": str(SOURCES)}
    done = subprocess.run([sys.executable, "-c", code], env=environment, check=False)
    assert done.returncode == 0

"""Merging collections against reading their records and writing them once.

Nothing can be merged for less: all is read, and one file is written. What comes on top is that
comments are kept, and that the file is read again before it stands anywhere. A merge of twice
as many shows that it grows as they do. `pytest -m benchmark -s` prints what this machine takes.
"""

from __future__ import annotations

import json
import time
from itertools import product
from pathlib import Path

import pytest

from benchmarks.test_collection_loading import no_two_alike
from reedchord.collection_reading import read_collection
from reedchord.exchange.collection_text import yaml_text
from reedchord.exchange.merge import merge_collections

FIRST, SECOND = 500, 100


def _as_json(data: dict) -> str:
    return json.dumps(data, ensure_ascii=False, indent=2)


def _written(folder: Path, name: str, kind: str, count: int, seed: int) -> tuple[Path, dict]:
    data = json.loads(no_two_alike(count, seed))
    for row in data["sonorities"]:
        row["id"] = f"{name}-{row['id']}"
        for neighbour in row.get("neighbours", ()):
            neighbour["sonority"] = f"{name}-{neighbour['sonority']}"
    path = folder / f"{name}.{kind}"
    path.write_text(WRITERS[kind](data), "utf-8")
    return path, data


def _seconds(action) -> float:
    start = time.process_time()
    action()
    return time.process_time() - start


WRITERS = {"yaml": yaml_text, "json": _as_json}


def _seconds_of_merge_and_floor(folder: Path, kind: str, times: int) -> tuple[float, float]:
    one, data = _written(folder, f"one{times}", kind, FIRST * times, 5)
    two, more = _written(folder, f"two{times}", kind, SECOND * times, 6)
    every = {**data, "sonorities": [*data["sonorities"], *more["sonorities"]]}

    def floor():
        read_collection(one)
        read_collection(two)
        WRITERS[kind](every)

    def merge():
        merge_collections([one, two], out=f"merged.{kind}")

    # In turns, and the faster of two: a busy machine is fair to both.
    runs = [(_seconds(merge), _seconds(floor)) for _ in range(2)]
    merging, floors = zip(*runs, strict=True)
    return min(merging), min(floors)


@pytest.mark.benchmark
def test_merging_against_reading_and_writing(tmp_path):
    print()
    for kind, times in product(WRITERS, (1, 2)):
        merging, floor = _seconds_of_merge_and_floor(tmp_path, kind, times)
        print(
            f"  {FIRST * times} + {SECOND * times} records, {kind}: {merging:.1f} s, "
            f"{merging / floor:.2f} times reading and writing them"
        )

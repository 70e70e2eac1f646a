"""Loading a large collection that was read before, against reading its text as plain JSON.

Target: at most three times as long. `pytest -m benchmark -s` prints what this machine takes.
"""

from __future__ import annotations

import json
import time

import pytest

from reedchord.collection_cache import cached_collection
from reedchord.collection_reading import read_collection
from reedchord.demo_paths import COLLECTION, shipped_path
from reedchord.yaml_text import read_data_text

RECORDS = 2000  # copies of the sixteen, each among its own neighbours
RUNS = 7


def large_collection():
    """The demonstration's records over and over, each under an id of its own."""
    band = read_data_text(shipped_path(COLLECTION).read_text("utf-8"), "band.yaml").data
    rows = []
    for number in range(RECORDS):
        copy, row = divmod(number, len(band["sonorities"]))
        record = band["sonorities"][row]
        near = [
            {**neighbour, "sonority": f"{neighbour['sonority']}-{copy}"}
            for neighbour in record.get("neighbours", ())
        ]
        rows.append(
            {**record, "id": f"{record['id']}-{copy}"} | ({"neighbours": near} if near else {})
        )
    return json.dumps({**band, "sonorities": rows})


def fastest(action):
    seconds = []
    for _ in range(RUNS):
        start = time.perf_counter()
        action()
        seconds.append(time.perf_counter() - start)
    return min(seconds)


@pytest.mark.benchmark
def test_warm_loading_against_plain_json(tmp_path):
    text = large_collection()
    file = tmp_path / "large.json"
    file.write_text(text, "utf-8")
    assert len(cached_collection(file)) == RECORDS
    plain = fastest(lambda: json.loads(file.read_bytes()))
    warm = fastest(lambda: cached_collection(file))
    every = fastest(lambda: list(cached_collection(file)))
    start = time.perf_counter()
    read_collection(file)
    cold = time.perf_counter() - start
    print(f"\n{RECORDS} records, {len(text) / 1e6:.1f} MB:")
    print(f"  from the cache {warm / plain:.2f} times json.loads of the file")
    print(f"  from the cache, every sonority asked for {every / plain:.2f} times")
    print(f"  read and checked {cold / plain:.0f} times")

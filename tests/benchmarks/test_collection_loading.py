"""Loading a large collection that was read before, against reading its text as plain JSON.

Target: at most three times as long, with every sonority asked for. `pytest -m benchmark -s`
prints what this machine takes.
"""

from __future__ import annotations

import json
import random
import re
import time
from fractions import Fraction

import pytest

from reedchord.collection_cache import cached_collection
from reedchord.collection_reading import read_collection
from reedchord.demo_paths import COLLECTION, shipped_path
from reedchord.fingering import Amount, Fingering
from reedchord.fingering_text import parse_fingering
from reedchord.pitch import parse_pitch, pitch_from_cents
from reedchord.yaml_text import read_data_text

RECORDS = 2000
RUNS = 9


def copies(count: int) -> str:
    """Return the demonstration's records over and over, each under an id of its own."""
    band, rows = _band_and_rows(count)
    return json.dumps({**band, "sonorities": rows})


def no_two_alike(count: int, seed: int = 5) -> str:
    """Return as many, as large as the demonstration's, each with sounds and keys of its own."""
    band, rows = _band_and_rows(count)
    dice = random.Random(seed)
    for number, row in enumerate(rows):
        _change(row, number, dice)
    return json.dumps({**band, "sonorities": rows})


def _band_and_rows(count):
    band = read_data_text(shipped_path(COLLECTION).read_text("utf-8"), "band.yaml").data
    rows = []
    for number in range(count):
        copy, place = divmod(number, len(band["sonorities"]))
        row = json.loads(json.dumps(band["sonorities"][place]))
        row["id"] = f"{row['id']}-{copy}"
        for neighbour in row.get("neighbours", ()):
            neighbour["sonority"] = f"{neighbour['sonority']}-{copy}"
        rows.append(row)
    return band, rows


def _change(row, number, dice):
    for tone in row["tones"]:
        if "written" in tone:
            tone.pop("concert", None)
        [name] = {"written", "concert"} & set(tone)
        height = parse_pitch(tone[name]).cents + Fraction(dice.randint(-400, 400), 10)
        tone[name] = str(pitch_from_cents(height))
        tone["presence"] = {"mp": dice.choice(["dominant", "clear"]), "mf-f": "clear"}
    row["tones"].sort(key=lambda tone: parse_pitch(next(iter(tone.values()))).cents)
    row |= {"emphasised": 1, "dynamics": "mp-f", "build_up": [1]}
    keys = dict(parse_fingering(row["fingering"]).pressed)
    for key in dice.sample(["B", "A", "G", "F", "E", "D", "octave", "low C"], 3):
        if keys.pop(key, None) is None:
            keys[key] = dice.choice(list(Amount))
    row["fingering"] = str(Fingering(tuple(keys.items())))
    for limit in row.get("limits", ()):
        limit["fastest"] = re.sub("[0-9]+$", str(dice.randint(40, 140)), limit["fastest"])
        limit.pop("dynamics", None)
    row["source"] |= {"page": dice.randint(1, 300), "number": number}
    row["advice"] = f"{row.get('advice', 'Steady air')}, {number}"


def fastest_seconds(*actions):
    """Return the fastest run of each action; they take turns, so that a busy machine is fair."""
    seconds = [[] for _ in actions]
    for _ in range(RUNS):
        for taken, action in zip(seconds, actions, strict=True):
            start = time.process_time()
            action()
            taken.append(time.process_time() - start)
    return [min(taken) for taken in seconds]


@pytest.mark.benchmark
@pytest.mark.parametrize("made", [copies, no_two_alike])
def test_warm_loading_against_plain_json(tmp_path, made):
    text = made(RECORDS)
    file = tmp_path / "large.json"
    file.write_text(text, "utf-8")
    assert len(cached_collection(file)) == RECORDS
    plain, warm, every = fastest_seconds(
        lambda: json.loads(file.read_bytes()),
        lambda: cached_collection(file),
        lambda: list(cached_collection(file)),
    )
    start = time.process_time()
    read_collection(file)
    cold = time.process_time() - start
    print(f"\n{RECORDS} records, {made.__name__}, {len(text) / 1e6:.1f} MB:")
    print(f"  from the cache {warm / plain:.2f} times json.loads of the file")
    print(f"  from the cache, every sonority asked for {every / plain:.2f} times")
    print(f"  read and checked {cold / plain:.0f} times")

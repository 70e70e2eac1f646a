"""A thousand placements by plan against one, and the peak of memory against the size of the file.

On the largest score that the music21 package ships, a quartet of 10.9 MB in UTF-16. Targets: at
most five times as long. `pytest -m benchmark -s` prints what this machine takes.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from pathlib import Path
from random import Random
from statistics import median

import pytest

from reedchord.errors import ReedchordError, SeveralErrors, Where
from reedchord.musicxml.container import open_score
from reedchord.musicxml.document import read_score
from reedchord.musicxml.part_music import PartMusic
from reedchord.placement.place import place
from reedchord.placement.plan import Placement
from samples import COLLECTION
from truth.real_scores import NAMED

pytestmark = pytest.mark.benchmark

MANY = 1_000
RUNS = 5
ROOT = Path(__file__).parents[2]
_KILOBYTE = 1 if sys.platform == "darwin" else 1024


@pytest.fixture(scope="module")
def quartet() -> bytes:
    return open_score(NAMED["utf16 quartet"].read_bytes()).data


@pytest.fixture(scope="module")
def wishes(quartet) -> list[Placement]:
    """Return wishes that can be met, for rests all over the score."""
    rests = [
        (part.id, bar.index, timeline.beat_at(event.onset_quarters), event)
        for part in read_score(quartet).parts
        for music in (PartMusic(part),)
        for bar in part.bars
        for timeline in (music.bar(bar.index),)
        for event in timeline.events
        if event.is_rest and event.duration_quarters >= 1
    ]
    Random("quartet").shuffle(rests)
    asked = [
        Placement(
            sonority=("heron", "egret", "crane")[index % 3],
            part=part,
            bar=f"@{bar + 1}",
            beat=beat,
            voice=event.voice,
            staff=event.staff,
            saxophone=COLLECTION["heron"].saxophone,
        )
        for index, (part, bar, beat, event) in enumerate(rests)
    ]
    refused = {error.where.line for error in _refusals(quartet, asked)}
    return [wish for line, wish in enumerate(asked) if line not in refused][:MANY]


def _refusals(data: bytes, asked: list[Placement]) -> tuple[ReedchordError, ...]:
    try:
        place(data, [(wish, Where(line=line)) for line, wish in enumerate(asked)], COLLECTION)
    except SeveralErrors as several:
        return several.errors
    return ()


def cpu_seconds(work) -> float:
    begin = time.process_time()
    work()
    return time.process_time() - begin


def test_a_thousand_placements_against_one(quartet, wishes):
    assert len(wishes) == MANY
    assert len(place(quartet, wishes, COLLECTION).placed) == MANY
    one, many = [], []
    for _ in range(RUNS):  # in turn, so that a busy machine troubles both
        one.append(cpu_seconds(lambda: place(quartet, wishes[:1], COLLECTION)))
        many.append(cpu_seconds(lambda: place(quartet, wishes, COLLECTION)))
    print(
        f"\n{MANY:,} placements against one in {len(quartet):,} bytes, proof included: "
        f"{median(many) / median(one):.1f} times as long ({median(many):.2f} s against "
        f"{median(one):.2f} s of processor time, median of {RUNS}; target at most 5)"
    )


@pytest.fixture(scope="module")
def folder(quartet, wishes, tmp_path_factory) -> Path:
    """Return a folder with the quartet, a collection, and plans of one and of many."""
    path = tmp_path_factory.mktemp("plans")
    (path / "quartet.xml").write_bytes(quartet)
    head = {"reedchord": "collection", "version": 1}
    rows = [_plain(COLLECTION[name]) for name in ("heron", "egret", "crane")]
    (path / "band.json").write_text(json.dumps({**head, "sonorities": rows}), "utf-8")
    for count in (1, MANY):
        plan = {"reedchord": "plan", "version": 1, "collection": "band.json"}
        plan["placements"] = [_plain(wish) for wish in wishes[:count]]
        # JSON is YAML as well, and by this name it is read as YAML, the slower of the two.
        (path / f"plan-{count}.yaml").write_text(json.dumps(plan, indent=1), "utf-8")
    return path


def _plain(record) -> dict:
    return record.model_dump(mode="json", by_alias=True, exclude_defaults=True)


COSTS = """
import json, resource, subprocess, sys
subprocess.run([sys.executable, *sys.argv[1:]], check=True, stderr=subprocess.DEVNULL)
usage = resource.getrusage(resource.RUSAGE_CHILDREN)
print(json.dumps([usage.ru_utime + usage.ru_stime, usage.ru_maxrss]))
"""


def costs(folder: Path, *arguments: str) -> tuple[float, int]:
    """Return processor seconds and the peak of memory in bytes of a run of Python.

    A small process starts it: a child's peak counts what its parent holds.
    """
    done = subprocess.run(
        [sys.executable, "-c", COSTS, *arguments],
        cwd=folder,
        env=os.environ | {"PYTHONPATH": str(ROOT / "src")},
        check=True,
        capture_output=True,
    )
    seconds, peak = json.loads(done.stdout)
    return seconds, peak * _KILOBYTE


def test_the_command_with_a_plan_of_a_thousand_against_one(folder):
    run = ["-m", "reedchord", "place", "quartet.xml", "-o", "out.xml", "--plan"]
    rows = [
        (costs(folder, *run, "plan-1.yaml")[0], costs(folder, *run, f"plan-{MANY}.yaml")[0])
        for _ in range(3)
    ]
    one, many = (median(column) for column in zip(*rows, strict=True))
    print(
        f"\nreedchord place --plan, {MANY:,} placements against one, start and YAML included: "
        f"{many / one:.1f} times as long ({many:.1f} s against {one:.1f} s; target at most 5)"
    )


IMPORTS = "import reedchord.cli.place_request, reedchord.placement.report, typer"
TREE = "from lxml import etree; etree.parse('quartet.xml')"


def test_the_peak_of_memory_against_the_size_of_the_file(folder, quartet):
    run = ["-m", "reedchord", "place", "quartet.xml", "-o", "out.xml", "--plan"]
    imports = costs(folder, "-c", IMPORTS)[1]
    peaks = {
        "one placement": costs(folder, *run, "plan-1.yaml")[1] - imports,
        f"{MANY:,} placements": costs(folder, *run, f"plan-{MANY}.yaml")[1] - imports,
        "lxml's tree alone": costs(folder, "-c", TREE)[1]
        - costs(folder, "-c", "import lxml.etree")[1],
    }
    print(f"\npeak of memory beyond the imports ({imports / 1e6:.0f} MB), {len(quartet):,} bytes:")
    for name, peak in peaks.items():
        print(f"  {name}: {peak / 1e6:.0f} MB, {peak / len(quartet):.1f} times the file")

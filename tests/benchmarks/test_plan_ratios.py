"""A plan of a thousand placements against one, and what comes after, on a score of 10.9 MB.

Ratios are printed (`pytest -m benchmark -s`); nothing is asserted about seconds.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from typing import Any

import pytest

from reedchord.errors import ReedchordError, SeveralErrors, Where
from reedchord.musicxml.container import open_score
from reedchord.musicxml.document import read_score
from reedchord.musicxml.part_music import PartMusic
from reedchord.placement.place import place
from reedchord.placement.plan import Placement
from reedchord.placement.strip import strip
from reedchord.placement.swap import swap
from samples import COLLECTION, sonority
from truth.real_scores import NAMED

pytestmark = pytest.mark.benchmark

COUNT = 1000
RUNS = 3
TEAL = sonority("teal", "E4", "C5", "G5+60")


def wishes(data: bytes) -> list[Placement]:
    """Return wishes for rests of all parts, those that are refused left out."""
    asked = [
        Placement(
            sonority="heron",
            part=part.id,
            bar=f"@{bar.index + 1}",
            beat=timeline.beat_at(event.onset_quarters),
            voice=event.voice,
            staff=event.staff,
            saxophone=COLLECTION["heron"].saxophone,
        )
        for part in read_score(data).parts
        for music in [PartMusic(part)]
        for bar in part.bars
        for timeline in [music.bar(bar.index)]
        for event in timeline.events
        if event.is_rest
    ]
    numbered = [(wish, Where(line=line)) for line, wish in enumerate(asked)]
    try:
        place(data, numbered, COLLECTION)
    except (SeveralErrors, ReedchordError) as error:
        wrong = error.errors if isinstance(error, SeveralErrors) else (error,)
        lines = {one.where.line for one in wrong}
        asked = [wish for line, wish in enumerate(asked) if line not in lines]
    return asked[:: max(1, len(asked) // COUNT)][:COUNT]


def seconds(work: Callable[[], Any]) -> float:
    """Return the least time of some runs, in seconds of wall clock."""
    times = []
    for _ in range(RUNS):
        begin = time.perf_counter()
        work()
        times.append(time.perf_counter() - begin)
    return min(times)


def test_a_thousand_placements_against_one():
    data = open_score(NAMED["utf16 quartet"].read_bytes()).data
    many = wishes(data)
    assert len(many) == COUNT
    placed = place(data, many, COLLECTION).data
    edited = placed.replace(
        "</part-name>".encode("utf-16-le"), " *</part-name>".encode("utf-16-le")
    )
    one = seconds(lambda: place(data, many[:1], COLLECTION))
    rows = {
        f"{COUNT} placements": lambda: place(data, many, COLLECTION),
        "the same plan again": lambda: place(placed, many, COLLECTION, whole=True),
        "strip": lambda: strip(placed),
        "strip, edited since": lambda: strip(edited),
        "the same plan, edited since": lambda: place(edited, many, COLLECTION, whole=True),
        "swap all": lambda: swap(placed, "heron", TEAL),
        "swap all, edited since": lambda: swap(edited, "heron", TEAL),
    }
    sys.stdout.write(f"\none placement: {one:.2f} s\n")
    for name, work in rows.items():
        sys.stdout.write(f"{name}: {seconds(work) / one:.1f} times one placement\n")

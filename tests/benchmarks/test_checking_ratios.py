"""How long checking takes: the largest real score against parsing it, many scores on two cores.

Ratios are printed (`pytest -m benchmark -s`); nothing is asserted about seconds.
"""

from __future__ import annotations

import os
import time
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from statistics import median
from typing import Any

import pytest

from reedchord.checks.checking import Conditions, check
from reedchord.checks.finding import Severity
from reedchord.checks.jobs import Job
from reedchord.checks.many_scores import check_scores
from reedchord.demo import demo_files, write_demo
from reedchord.demo_mistakes import MISTAKES
from reedchord.musicxml.container import open_score
from reedchord.musicxml.document import read_score
from reedchord.placement.place import place
from reedchord.placement.plan import Placement
from samples import COLLECTION
from truth.real_scores import NAMED, score_paths

pytestmark = pytest.mark.benchmark

RUNS = 5
PLACES = 20
MANY = 200


def cpu_seconds(work: Callable[[], Any]) -> float:
    """Return the seconds of this processor that one run takes, whoever else is busy."""
    begin = time.process_time()
    work()
    return time.process_time() - begin


def placed_quartet() -> bytes:
    """Return the string quartet of 10.9 MB with sonorities on rests of its first part."""
    data = open_score(NAMED["utf16 quartet"].read_bytes()).data
    from reedchord.musicxml.part_music import PartMusic

    part = read_score(data).parts[0]
    music = PartMusic(part)
    rests = [
        (bar.index, music.bar(bar.index).beat_at(event.onset_quarters), event)
        for bar in part.bars
        for event in music.bar(bar.index).events
        if event.is_rest and event.duration_quarters >= 1
    ]
    chosen = rests[:: len(rests) // PLACES + 1]
    wishes = [
        Placement(
            sonority=("heron", "egret", "crane")[number % 3],
            part=part.id,
            bar=f"@{bar + 1}",
            beat=beat,
            voice=event.voice,
            staff=event.staff,
            saxophone=COLLECTION["heron"].saxophone,
        )
        for number, (bar, beat, event) in enumerate(chosen)
    ]
    return place(data, wishes, COLLECTION).data


def test_checking_the_largest_score_against_parsing_it():
    score = placed_quartet()
    report = check(score, COLLECTION)  # warms up, and shows that there is something to find
    ours, parsing = [], []
    for _ in range(RUNS):  # in turn, so that a busy machine troubles both
        ours.append(cpu_seconds(lambda: check(score, COLLECTION)))
        parsing.append(cpu_seconds(lambda: read_score(score)))
    print(
        f"\ncheck of {len(score):,} bytes with {len(report.checked.placements)} sonorities: "
        f"{median(ours):.2f} s, {median(ours) / median(parsing):.1f} times parsing alone "
        f"({median(parsing):.2f} s of processor, median of {RUNS}; target at most 6)"
    )
    assert report.findings


def test_two_hundred_scores_on_one_core_and_on_two(tmp_path):
    write_demo(tmp_path, demo_files()[1])
    real = [path for path in score_paths() if path.stat().st_size < 200_000]
    scores = [tmp_path / MISTAKES] * (MANY // 2) + real[: MANY // 2]
    jobs = [
        Job(
            Path(score),
            tmp_path / "harbour-band.yaml",
            Conditions(assumed_tempo=Fraction(90)),
            Severity.WARNING,
        )
        for score in scores
    ]
    seconds, processor = {}, {}
    for cores in (1, 2):
        begin, before = time.perf_counter(), os.times()
        reports = list(check_scores(jobs, processes=cores))
        seconds[cores], after = time.perf_counter() - begin, os.times()
        here = after.user + after.system - before.user - before.system
        inside = after.children_user + after.children_system
        inside -= before.children_user + before.children_system
        # What two free cores would take: this process's own work, and half of the others'.
        processor[cores] = here + inside / cores
    print(
        f"\n{len(jobs)} scores: {len(jobs) / seconds[1]:.0f} a second in one process, "
        f"{len(jobs) / seconds[2]:.0f} in two: {seconds[1] / seconds[2]:.2f} times as fast by the "
        f"clock ({os.cpu_count()} cores, load {os.getloadavg()[0]:.1f}), "
        f"{processor[1] / processor[2]:.2f} times by processor time; "
        f"{len(jobs) / processor[1]:.0f} scores a second of one processor"
    )
    assert len(reports) == MANY
    assert sum(len(report.told) for report in reports) >= 10 * MANY // 2

"""Many scores checked, one after the other or several at a time."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from functools import lru_cache
from pathlib import Path

from reedchord.checks.checking import check
from reedchord.checks.jobs import Job
from reedchord.checks.told import ScoreReport, told
from reedchord.collection import Collection
from reedchord.collection_cache import cached_collection
from reedchord.errors import ReedchordError, Where
from reedchord.reader import reader, speak_to
from reedchord.score_files import read_score_file

FEWEST_FOR_PROCESSES = 8
"""Fewer scores are checked sooner than processes for them are started."""
_AT_A_TIME = 4
"""Scores that are handed to a process together."""


def check_scores(jobs: Sequence[Job], processes: int | None = None) -> Iterator[ScoreReport]:
    """Yield a report for each score, in their order, as soon as it is there.

    `processes` at a time, as many as there are cores where it is None. Raises what reading a
    collection raises; scores that cannot be read are reported.
    """
    for collection in dict.fromkeys(job.collection for job in jobs):
        _collection(collection)
    count = min(processes or os.cpu_count() or 1, len(jobs))
    if count < 2 or (processes is None and len(jobs) < FEWEST_FOR_PROCESSES):
        yield from map(check_file, jobs)
        return
    with ProcessPoolExecutor(count, initializer=speak_to, initargs=(reader(),)) as pool:
        yield from pool.map(check_file, jobs, chunksize=_AT_A_TIME)


def check_file(job: Job) -> ScoreReport:
    """Check one score; what cannot be read is reported rather than raised."""
    path = str(job.score)
    collection = _collection(job.collection)
    try:
        file = read_score_file(job.score)
        report = check(file.data, collection, job.conditions)
        return told(path, report, is_package=file.package is not None)
    except ReedchordError as error:
        return ScoreReport(path, error=str(error.at(Where(path=path))))


@lru_cache(maxsize=16)
def _collection(path: Path | None) -> Collection | None:
    return None if path is None else cached_collection(path)

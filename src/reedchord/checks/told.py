"""Findings with the bar and the lines of the file at which they stand, free of the score itself."""

from __future__ import annotations

import re
from bisect import bisect_right
from dataclasses import dataclass
from functools import cached_property

from reedchord.checks.bar_words import bar_words
from reedchord.checks.checking import Report
from reedchord.checks.finding import Finding, Severity, Spot
from reedchord.musicxml.document import Score


@dataclass(frozen=True)
class Region:
    """Lines and columns of a bar in the text of a MusicXML document, counted from 1.

    The end is the first column after it.
    """

    start_line: int
    start_column: int
    end_line: int
    end_column: int


@dataclass(frozen=True)
class Told:
    """A finding, the bar in words, and where the bar stands in the file."""

    finding: Finding
    bar: str | None
    region: Region | None


@dataclass(frozen=True)
class ScoreReport:
    """What was found in one file; `error` says why it could not be checked."""

    path: str
    told: tuple[Told, ...] = ()
    error: str | None = None
    is_without_saxophones: bool = False
    """Whether no part says that it is for a saxophone, and no sonority stands there."""

    def has(self, least: Severity) -> bool:
        """Whether anything so bad was found."""
        return any(one.finding.severity.rank <= least.rank for one in self.told)


def told(path: str, report: Report, *, is_package: bool) -> ScoreReport:
    """Return a report without its score; in a package (.mxl) lines are not told."""
    places = _Places(report.checked.score)
    return ScoreReport(
        path,
        tuple(
            Told(
                finding,
                bar_words(report.checked, finding.spot),
                None if is_package else places.region(finding.spot),
            )
            for finding in report.findings
        ),
        is_without_saxophones=not (report.checked.parts or report.checked.placements),
    )


class _Places:
    """Where bars stand in the text of a score."""

    def __init__(self, score: Score) -> None:
        self._score = score

    def region(self, spot: Spot) -> Region | None:
        """Return the region of the bar of a place; None where it is no bar."""
        if spot.part_id is None or spot.bar_index is None:
            return None
        part = next(part for part in self._score.parts if part.id == spot.part_id)
        start, end = self._score.bar_span(part.bars[spot.bar_index])
        return Region(*self._line_and_column(start), *self._line_and_column(end))

    @cached_property
    def _line_starts(self) -> list[int]:
        return [0, *(match.end() for match in re.finditer(r"\r\n|\r|\n", self._score.text))]

    def _line_and_column(self, offset: int) -> tuple[int, int]:
        line = bisect_right(self._line_starts, offset)
        return line, offset - self._line_starts[line - 1] + 1

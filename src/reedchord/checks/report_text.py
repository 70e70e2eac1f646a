"""Findings as text: the place, the sentence, what would mend it, and the bar."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from reedchord.checks.finding import Severity
from reedchord.checks.told import ScoreReport, Told
from reedchord.numbers_as_text import counted


def report_text(reports: Iterable[ScoreReport]) -> str:
    """Return the findings of some scores; empty where there are none."""
    return "".join(f"{line}\n" for report in reports for line in _lines(report))


def _lines(report: ScoreReport) -> Iterator[str]:
    before: str | None = None
    for one in report.told:
        if one.bar is not None and one.bar != before:
            yield f"{report.path}: {one.finding.spot.part}, {one.bar}"
        elif one.bar is None:
            yield f"{report.path}: {one.finding.spot}"
        before = one.bar
        yield from _finding_lines(one)


def _finding_lines(one: Told) -> Iterator[str]:
    finding, spot = one.finding, one.finding.spot
    at = f"beat {spot.beat}: " if one.bar is not None and spot.beat else ""
    yield f"  {finding.severity} {finding.code}: {at}{finding.sentence}"
    yield from (f"    -> {remedy.words}" for remedy in finding.remedies)


def summary(reports: Iterable[ScoreReport]) -> str:
    """Return how much was found: `2 errors, 1 warning in 1 of 3 scores`."""
    every = list(reports)
    checked = [report for report in every if report.error is None]
    unread = len(every) - len(checked)
    counts = Counter(one.finding.severity for report in every for one in report.told)
    told = [counted(counts[severity], str(severity)) for severity in Severity if counts[severity]]
    if told:
        with_some = sum(bool(report.told) for report in checked)
        words = f"{', '.join(told)} in {with_some} of {counted(len(checked), 'score')}"
    else:
        words = f"nothing found in {counted(len(checked), 'score')}"
    if not unread:
        return words
    return f"{words}; {unread} could not be read" if checked else "no score could be read"

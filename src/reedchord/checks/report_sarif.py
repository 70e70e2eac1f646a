"""Findings as SARIF 2.1.0 (OASIS standard, 27 March 2020), as pipelines and editors read them."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Iterator, Sequence
from contextlib import suppress
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import Any
from urllib.parse import quote

from reedchord.checks.finding import Finding
from reedchord.checks.table import BY_CODE
from reedchord.checks.told import Region, ScoreReport, Told

SCHEMA = "https://json.schemastore.org/sarif-2.1.0.json"
_NUMBER_OF_RULE = {code: number for number, code in enumerate(BY_CODE)}


def sarif_text(reports: Sequence[ScoreReport]) -> str:
    """Return the findings of some scores as the text of a SARIF log."""
    return json.dumps(report_sarif(reports), ensure_ascii=False, indent=2) + "\n"


def report_sarif(reports: Sequence[ScoreReport]) -> dict[str, Any]:
    """Return the findings of some scores as one run.

    A bar is a region of its file, part, bar, beat and label are logical locations. Scores that
    could not be checked are notifications.
    """
    unread = list(_notifications(reports))
    return {
        "$schema": SCHEMA,
        "version": "2.1.0",
        "runs": [
            {
                "tool": {"driver": _driver()},
                "columnKind": "unicodeCodePoints",
                "invocations": [
                    {"executionSuccessful": not unread, "toolExecutionNotifications": unread}
                ],
                "results": [_result(report.path, one) for report in reports for one in report.told],
            }
        ],
    }


def _driver() -> dict[str, Any]:
    driver: dict[str, Any] = {"name": "reedchord", "rules": [_rule(code) for code in BY_CODE]}
    # Run from its source folder the program has no version.
    with suppress(PackageNotFoundError):
        driver["semanticVersion"] = version("reedchord")
    return driver


def _rule(code: str) -> dict[str, Any]:
    rule = BY_CODE[code]
    return {
        "id": code,
        "shortDescription": {"text": rule.summary},
        "defaultConfiguration": {"level": str(rule.severity), "enabled": not rule.performance_only},
    }


def _notifications(reports: Iterable[ScoreReport]) -> Iterator[dict[str, Any]]:
    for report in reports:
        if report.error is not None:
            yield {
                "level": "error",
                "message": {"text": report.error},
                "locations": [{"physicalLocation": {"artifactLocation": _artifact(report.path)}}],
            }


def _result(path: str, one: Told) -> dict[str, Any]:
    finding = one.finding
    lines = [finding.sentence, *(f"Remedy: {remedy.words}" for remedy in finding.remedies)]
    physical: dict[str, Any] = {"artifactLocation": _artifact(path)}
    if one.region is not None:
        physical["region"] = _region(one.region, one.bar)
    location: dict[str, Any] = {"physicalLocation": physical}
    logical = list(_logical(finding))
    if logical:
        location["logicalLocations"] = logical
    return {
        "ruleId": finding.code,
        "ruleIndex": _NUMBER_OF_RULE[finding.code],
        "level": str(finding.severity),
        "message": {"text": "\n".join(lines)},
        "locations": [location],
        "partialFingerprints": {"place/v1": _fingerprint(finding)},
    }


def _logical(finding: Finding) -> Iterator[dict[str, Any]]:
    """Yield part, bar, beat and label, each with the names of those that it lies in."""
    spot, whole = finding.spot, []
    for kind, name in (
        ("part", spot.part_id or spot.part),
        ("bar", spot.bar),
        ("beat", spot.beat),
        ("label", spot.label),
    ):
        if name is not None:
            whole.append(name)
            yield {"name": name, "fullyQualifiedName": "/".join(whole), "kind": kind}


def _region(region: Region, bar: str | None) -> dict[str, Any]:
    data: dict[str, Any] = {
        "startLine": region.start_line,
        "startColumn": region.start_column,
        "endLine": region.end_line,
        "endColumn": region.end_column,
    }
    return {**data, "message": {"text": bar}} if bar else data


def _artifact(path: str) -> dict[str, str]:
    """Return a file as a URI: relative ones stay so, in any system's spelling."""
    file = Path(path)
    return {"uri": file.as_uri() if file.is_absolute() else quote(file.as_posix())}


def _fingerprint(finding: Finding) -> str:
    """Return what stays the same as long as the same thing is wrong at the same place."""
    spot = finding.spot
    words = (finding.code, spot.part_id, spot.bar, spot.beat, spot.label)
    return hashlib.sha256("\0".join(str(word) for word in words).encode()).hexdigest()[:32]

"""Findings as plain data for programs."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import asdict
from typing import Any

from reedchord.checks.told import ScoreReport, Told

VERSION = 1


def json_text(reports: Iterable[ScoreReport]) -> str:
    """Return the findings of some scores as JSON."""
    return json.dumps(report_data(reports), ensure_ascii=False, indent=2) + "\n"


def report_data(reports: Iterable[ScoreReport]) -> dict[str, Any]:
    """Return the findings of some scores as JSON holds them."""
    return {
        "reedchord": "check",
        "version": VERSION,
        "scores": [
            {
                "score": report.path,
                "error": report.error,
                "findings": [_finding(one) for one in report.told],
            }
            for report in reports
        ],
    }


def _finding(one: Told) -> dict[str, Any]:
    finding = one.finding
    return {
        "code": finding.code,
        "severity": str(finding.severity),
        "sentence": finding.sentence,
        **asdict(finding.spot),
        "excerpt": one.bar,
        "region": asdict(one.region) if one.region else None,
        "remedies": [asdict(remedy) for remedy in finding.remedies],
    }

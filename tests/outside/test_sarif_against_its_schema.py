"""Reports of `check` against SARIF 2.1.0: its published JSON schema, and clauses of its text.

The schema (2.1.0-rtm.5, as the OASIS committee published it) is carried by the npm package
@microsoft/jest-sarif; REEDCHORD_SARIF_SCHEMA is the path of the file.
"""

from __future__ import annotations

import json
import os
import re
from pathlib import Path

import jsonschema
import pytest

from reedchord.checks.checking import check
from reedchord.checks.report_sarif import report_sarif, sarif_text
from reedchord.checks.told import ScoreReport, told
from reedchord.demo import demo_files
from reedchord.demo_mistakes import MISTAKES


@pytest.fixture(scope="module")
def score():
    return next(file.data for file in demo_files()[1] if file.name == MISTAKES)


@pytest.fixture(scope="module")
def log(score):
    """One score with findings, one in a package, one that cannot be read."""
    report = check(score)
    reports = [
        told("scores/harbour lights.musicxml", report, is_package=False),
        told("scores/packed.mxl", report, is_package=True),
        ScoreReport("scores/broken.musicxml", error="line 3: a tag is not closed"),
    ]
    return json.loads(sarif_text(reports))


@pytest.fixture(scope="module")
def schema():
    path = Path(os.environ.get("REEDCHORD_SARIF_SCHEMA", "") or "none")
    if not path.is_file():
        if os.environ.get("REEDCHORD_BROWSER") == "required":  # as in .ci/run
            pytest.fail("REEDCHORD_SARIF_SCHEMA names no file")
        pytest.skip("the SARIF schema is not installed (npm package @microsoft/jest-sarif)")
    return json.loads(path.read_text("utf-8"))


def problems(schema, log):
    validator = jsonschema.Draft4Validator(schema, format_checker=jsonschema.FormatChecker())
    return [error.message for error in validator.iter_errors(log)]


def test_a_report_follows_the_published_schema(schema, log):
    assert problems(schema, log) == []
    assert problems(schema, report_sarif([])) == []


def test_the_schema_would_find_mistakes(schema, log):
    for breaking in ({"version": "2.0.0"}, {"runs": [{}]}, {"runs": None}, {"reports": []}):
        assert problems(schema, log | breaking)


def test_what_the_text_of_the_standard_requires_is_there(log):
    """SARIF 2.1.0 (OASIS, 27 March 2020), the clauses that are named; they need no schema."""
    assert log["version"] == "2.1.0"  # 3.13.2
    (run,) = log["runs"]  # 3.13.4
    driver = run["tool"]["driver"]  # 3.14.6, 3.18.2
    assert driver["name"]  # 3.19.8
    ids = [rule["id"] for rule in driver["rules"]]  # 3.19.23, 3.49.3
    assert len(ids) == len(set(ids))
    assert all(rule["shortDescription"]["text"].endswith(".") for rule in driver["rules"])
    assert run["invocations"][0]["executionSuccessful"] is False  # 3.20.14: a score was not read
    assert run["columnKind"] == "unicodeCodePoints"  # 3.14.17
    assert len(run["results"]) >= 16
    for result in run["results"]:
        assert result["message"]["text"]  # 3.27.11
        assert ids[result["ruleIndex"]] == result["ruleId"]  # 3.27.5, 3.27.6
        assert result["level"] in ("error", "warning", "note")  # 3.27.10


def test_places_are_logical_locations_and_regions(log, score):
    (run,) = log["runs"]
    by_code = {one["ruleId"]: one for one in reversed(run["results"])}
    (location,) = by_code["marks.label"]["locations"]
    names = [one["fullyQualifiedName"] for one in location["logicalLocations"]]  # 3.33.5
    assert names == ["P2", "P2/9", "P2/9/3", "P2/9/3/M2"]
    assert [one["kind"] for one in location["logicalLocations"]] == ["part", "bar", "beat", "label"]
    physical = location["physicalLocation"]
    assert physical["artifactLocation"]["uri"] == "scores/harbour%20lights.musicxml"  # 3.4.3
    region = physical["region"]  # 3.30.5 to 3.30.8: counted from 1, the end column is past it
    lines = re.split(r"\r\n|\r|\n", score.decode("utf-8"))
    first, last = lines[region["startLine"] - 1], lines[region["endLine"] - 1]
    assert first[region["startColumn"] - 1 :].startswith('<measure number="9"')
    assert last[: region["endColumn"] - 1].endswith("</measure>")
    assert "[3: M2" in region["message"]["text"]


def test_lines_inside_a_package_are_not_told(log):
    packed = [
        one["locations"][0]["physicalLocation"]
        for one in log["runs"][0]["results"]
        if one["locations"][0]["physicalLocation"]["artifactLocation"]["uri"].endswith(".mxl")
    ]
    assert packed
    assert all("region" not in one for one in packed)


def test_fingerprints_stay_where_other_bars_change(score):
    before = report_sarif([told("a", check(score), is_package=False)])["runs"][0]["results"]
    moved = score.replace(b"<work-title>", b"\n\n<work-title>", 1)
    after = report_sarif([told("b", check(moved), is_package=False)])["runs"][0]["results"]
    assert [one["partialFingerprints"] for one in before] == [
        one["partialFingerprints"] for one in after
    ]
    assert len({one["partialFingerprints"]["place/v1"] for one in before}) == len(before)

"""Hostile files: one coded sentence with the place, status 2, nothing written, bounded costs."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from hostile.hostile_files import HOSTILE

TESTS = Path(__file__).parents[1]
MEMORY_FLOOR_BYTES = 50_000_000
"""What any run may take: pieces of packages are unpacked up to a ratio before one is refused."""
MEMORY_PER_BYTE = 25
"""Text, tree and bytes of a document, for each byte of it."""

every_file = pytest.mark.parametrize("name", HOSTILE)


@pytest.fixture(scope="module")
def outcomes(tmp_path_factory):
    folder = tmp_path_factory.mktemp("hostile")
    paths = f"{TESTS.parent / 'src'}{os.pathsep}{TESTS}"
    environment = os.environ | {"PYTHONPATH": paths, "REEDCHORD_CACHE": str(folder / "cache")}
    line = [sys.executable, "-m", "hostile.under_limits", str(folder)]
    done = subprocess.run(line, env=environment, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return json.loads((folder / "outcomes.json").read_text("utf-8"))


def test_there_are_many():
    assert len(HOSTILE) >= 40


@every_file
def test_the_refusal_has_its_code_and_its_place(outcomes, name):
    hostile, outcome = HOSTILE[name], outcomes[name]
    assert outcome["code"] == hostile.code, outcome["talk"]
    assert f"hostile{hostile.suffix}" in outcome["talk"]
    for words in hostile.says:
        assert words in outcome["talk"]


@every_file
def test_the_command_ends_with_status_2_and_one_sentence_and_writes_nothing(outcomes, name):
    outcome = outcomes[name]
    assert outcome["status"] == 2, outcome["talk"]
    assert outcome["talk"].startswith("error: ")
    assert "Traceback" not in outcome["talk"]
    assert len(outcome["talk"]) < 1_500
    assert outcome["result"] == ""
    assert outcome["nothing_written"]


@every_file
def test_memory_is_bounded_by_the_size_of_the_file(outcomes, name):
    """Time is bounded too: the run is killed after a minute of processor time."""
    outcome = outcomes[name]
    assert outcome["grown_bytes"] <= MEMORY_FLOOR_BYTES + MEMORY_PER_BYTE * outcome["bytes"]

"""What placing one sonority of a kept collection loads, and what it must not."""

import os
import subprocess
import sys

import pytest

from reedchord.demo_paths import COLLECTION, SCORE, shipped_path

NOT_NEEDED = {
    "typer._adapters": "a validator for every option",
    "importlib.metadata": "pydantic looking for plugins of the first validator",
    "ruamel.yaml": "the collection is kept",
    "reedchord.collection_reading": "the collection is kept",
    "reedchord.musicxml.packing": "the score is plain",
    "reedchord.placement.room": "nothing was placed before",
    "reedchord.music21_bridge.conversion": "the score is MusicXML",
    "numpy": "nothing is reckoned",
    "music21": "half a second",
    "rich": "no page of help is drawn",
}
PLACE = """
import sys
sys.argv = ["reedchord", *sys.argv[1:]]
from reedchord.cli.start import main
try:
    main()
finally:
    print(*sys.modules, file=sys.stderr)
"""


@pytest.fixture(scope="module")
def loaded(tmp_path_factory):
    folder = tmp_path_factory.mktemp("start")
    shipped = str(shipped_path(SCORE)), "alto-slack-water", "-c", str(shipped_path(COLLECTION))
    request = [*shipped, "-p", "P2", "-b", "5", "-o", str(folder / "out.musicxml")]
    environment = os.environ | {"REEDCHORD_CACHE": str(folder / "cache")}
    for _ in range(2):  # the first run reads the collection and keeps it
        run = subprocess.run(
            [sys.executable, "-c", PLACE, "place", *request],
            env=environment, capture_output=True, text=True, check=True,
        )  # fmt: skip
    return run.stderr.split()


@pytest.mark.parametrize("module", sorted(NOT_NEEDED))
def test_placing_does_not_load(loaded, module):
    assert "reedchord.placement.writing" in loaded
    assert module not in loaded, f"not needed: {NOT_NEEDED[module]}"

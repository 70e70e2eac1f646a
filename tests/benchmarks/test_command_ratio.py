"""The whole command on a score of 100 kB against the imports that it cannot do without.

Target: at most twice as long. `pytest -m benchmark -s` prints what this machine takes.
"""

from __future__ import annotations

import os
import subprocess
import sys
import time
from importlib.resources import files
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
RUNS = 7
PEERS = {
    "imports alone": "import typer, pydantic, lxml.etree",
    "the same with what any record needs and pydantic puts off": (
        "import typer, pydantic, lxml.etree; pydantic.BaseModel; pydantic.Field"
    ),
}


def fastest_seconds(arguments, folder):
    environment = os.environ | {"PYTHONPATH": str(ROOT / "src")}
    # An installed command finds its modules compiled, like those of the packages beside it.
    environment.pop("PYTHONDONTWRITEBYTECODE", None)
    seconds = []
    for _ in range(RUNS):
        start = time.perf_counter()
        subprocess.run(
            [sys.executable, *arguments], cwd=folder, env=environment, check=True,
            capture_output=True,
        )  # fmt: skip
        seconds.append(time.perf_counter() - start)
    return min(seconds)


@pytest.mark.benchmark
def test_whole_command_against_imports(tmp_path):
    demo = files("reedchord").joinpath("demo_data")
    score = demo.joinpath("harbour-lights.musicxml").read_text("utf-8")
    bars = score[score.index('<measure number="2"') : score.index("</part>")]
    (tmp_path / "score.musicxml").write_text(score.replace(bars, bars * 8, 1), "utf-8")
    (tmp_path / "band.yaml").write_bytes(demo.joinpath("harbour-band.yaml").read_bytes())
    size_kb = (tmp_path / "score.musicxml").stat().st_size / 1000
    assert 90 < size_kb < 130
    place = ["score.musicxml", "alto-slack-water", "-c", "band.yaml", "-p", "P2", "-b", "5"]
    ours = fastest_seconds(["-m", "reedchord", "place", *place, "-o", "o.musicxml"], tmp_path)
    print(f"\nreedchord place, {size_kb:.0f} kB:")
    for name, code in PEERS.items():
        print(f"  {ours / fastest_seconds(['-c', code], tmp_path):.2f} times {name}")

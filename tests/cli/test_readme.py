"""What the README tells people to type works as it stands."""

from __future__ import annotations

import io
import re
import runpy
import shlex
import subprocess
import sys
from pathlib import Path

from PIL import Image, ImageChops, ImageStat

from reedchord.collection import read_collection
from reedchord.demo import PLACED, demo_files
from reedchord.demo_paths import COLLECTION, shipped_path
from reedchord.drawing.diagram import sonority_diagram

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text("utf-8")
BLOCKS = re.findall(r"```(sh|python|yaml)\n(.*?)```", README, re.DOTALL)


def run(arguments, folder):
    return subprocess.run(
        [sys.executable, "-m", "reedchord", *arguments],
        cwd=folder,
        capture_output=True,
        encoding="utf-8",
        check=False,
        env={"PYTHONPATH": str(ROOT / "src"), "PYTHONIOENCODING": "utf-8", "PATH": ""},
    )


def test_commands_of_the_readme(harbour):
    block = next(text for kind, text in BLOCKS if kind == "sh" and "reedchord show" in text)
    lines = block.replace("\\\n", " ").strip().splitlines()[1:]
    assert len(lines) == 7
    for line in lines:
        words = shlex.split(line)
        assert words[0] == "reedchord"
        done = run(words[1:], harbour)
        assert done.returncode == (1 if "--diff" in words else 0), done.stderr
        assert "Traceback" not in done.stderr
    assert (harbour / "mine.musicxml").is_file()
    untouched = (harbour / "harbour-lights.musicxml").read_bytes()
    assert (harbour / "as-it-was.musicxml").read_bytes() == untouched


def test_python_of_the_readme(harbour):
    block = next(text for kind, text in BLOCKS if kind == "python")
    code = f"import os; os.chdir({str(harbour)!r})\n{block}"
    done = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        encoding="utf-8",
        check=True,
        env={"PYTHONPATH": str(ROOT / "src"), "PYTHONIOENCODING": "utf-8"},
    )
    shown = re.search(r"# (\[.*\])", block)
    assert done.stdout.splitlines()[0] == shown[1]


def test_the_record_of_the_readme_is_a_collection(tmp_path):
    block = next(text for kind, text in BLOCKS if kind == "yaml")
    (tmp_path / "log.yaml").write_text(block, "utf-8")
    done = run(["collection", "check", "log.yaml"], tmp_path)
    assert done.returncode == 0, done.stderr
    assert "1 sonorities for alto" in done.stdout


def test_the_picture_is_of_the_present_output():
    """examples/draw_picture.py draws the picture from this very file."""
    assert (ROOT / "examples" / PLACED).read_bytes() == demo_files()[0].data


def test_the_diagram_is_of_the_present_output():
    sonority = read_collection(shipped_path(COLLECTION))["baritone-engine-room"]
    drawn = (ROOT / "examples" / "baritone-engine-room.svg").read_text("utf-8")
    assert drawn == sonority_diagram(sonority).svg


def test_the_page_of_footnotes_is_of_the_present_output():
    """Hinting may differ between machines, so a grey value may, but no more."""
    pictures = runpy.run_path(str(ROOT / "examples" / "draw_picture.py"))
    drawn = pictures["footnotes_page"](demo_files()[0].data)
    shown = (ROOT / "examples" / pictures["FOOTNOTES"]).read_bytes()
    now, then = (Image.open(io.BytesIO(png)).convert("L") for png in (drawn, shown))
    assert now.size == then.size
    assert ImageStat.Stat(ImageChops.difference(now, then)).mean[0] < 0.5


def test_ci_runs_the_command_of_the_readme():
    assert re.search(r"^pip install .*pytest", README, re.MULTILINE)

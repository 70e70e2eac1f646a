"""What the README tells people to type works as it stands, and prints what stands below it."""

from __future__ import annotations

import io
import re
import runpy
import shlex
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from PIL import Image, ImageChops, ImageStat

from reedchord.cli.commands import COMMANDS
from reedchord.collection_reading import read_collection
from reedchord.demo import PLACED, demo_files
from reedchord.demo_paths import COLLECTION, shipped_path
from reedchord.drawing.diagram import sonority_diagram
from reedchord.pages.preview import preview
from reedchord.trials.set_ups import read_set_up

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text("utf-8")
BLOCKS = re.findall(r"^```(sh|text|python|yaml)\n(.*?)^```", README, re.DOTALL | re.MULTILINE)
YAML_BLOCKS = [text for kind, text in BLOCKS if kind == "yaml"]
FOUND_SOMETHING = {"match", "check"}
"""Commands that end with status 1 where they tell of something."""


def run(arguments, folder):
    return subprocess.run(
        [sys.executable, "-m", "reedchord", *arguments],
        cwd=folder,
        capture_output=True,
        encoding="utf-8",
        check=False,
        env={"PYTHONPATH": str(ROOT / "src"), "PYTHONIOENCODING": "utf-8", "PATH": ""},
    )


def commands() -> Iterator[tuple[list[str], str | None]]:
    """Yield each `reedchord` line of the README in order, with what it says is printed."""
    for (kind, text), (after, shown) in zip(BLOCKS, [*BLOCKS[1:], ("", "")], strict=True):
        if kind != "sh":
            continue
        lines = [line for line in text.replace("\\\n", " ").splitlines() if line]
        typed = [shlex.split(line)[1:] for line in lines if line.startswith("reedchord ")]
        for arguments in typed[:-1]:
            yield arguments, None
        if typed:
            yield typed[-1], shown if after == "text" else None


def test_every_command_of_the_readme_in_the_order_in_which_it_stands(harbour):
    seen = set()
    for arguments, shown in commands():
        done = run(arguments, harbour)
        told = " ".join(arguments)
        finds = "--diff" in arguments or arguments[0] in FOUND_SOMETHING
        assert done.returncode in ((0, 1) if finds else (0,)), (told, done.stderr)
        assert "Traceback" not in done.stderr, told
        if shown is not None:
            assert done.stdout == shown, told
        seen.add(arguments[0])
    assert seen >= {"place", "strip", "find", "neighbours", "chain", "footnotes", "sheet"}
    untouched = (harbour / "harbour-lights.musicxml").read_bytes()
    assert (harbour / "as-it-was.musicxml").read_bytes() == untouched


def test_every_command_stands_in_the_readme():
    assert [name for name in COMMANDS if not re.search(rf"(?:`|reedchord ){name}\b", README)] == []


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
    (tmp_path / "log.yaml").write_text(YAML_BLOCKS[0], "utf-8")
    done = run(["collection", "check", "log.yaml"], tmp_path)
    assert done.returncode == 0, done.stderr
    assert "1 sonority for alto" in done.stdout


def test_the_set_up_of_the_readme_is_one(tmp_path):
    (tmp_path / "mine.yaml").write_text(YAML_BLOCKS[1], "utf-8")
    words = "A. B., alto saxophone, mouthpiece ebonite, medium opening, reed 2.5"
    assert read_set_up(tmp_path / "mine.yaml").words() == words


def test_the_picture_is_of_the_present_output():
    """examples/draw_picture.py draws the picture from this very file."""
    assert (ROOT / "examples" / PLACED).read_bytes() == demo_files()[0].data


def test_the_music_is_of_the_present_output():
    """Glyphs and distances are the engraver's and change with it; what is said does not."""
    [page] = preview(demo_files()[0].data, bars="3-6").bars[0].stages[0].pages
    shown = (ROOT / "examples" / "harbour-lights.svg").read_text("utf-8")
    texts = [re.findall(r">([^<>]*\S[^<>]*)<", svg) for svg in (page.svg, shown)]
    assert "M1" in texts[0]
    assert texts[0] == texts[1]


def test_the_diagram_is_of_the_present_output():
    sonority = read_collection(shipped_path(COLLECTION))["baritone-engine-room"]
    drawn = (ROOT / "examples" / "baritone-engine-room.svg").read_text("utf-8")
    assert drawn == sonority_diagram(sonority).svg


@pytest.mark.parametrize(
    ("draw", "file"), [("footnotes_page", "FOOTNOTES"), ("sheet_page", "SHEET")]
)
def test_the_pages_are_of_the_present_output(draw, file):
    """Hinting may differ between machines, so a grey value may, but no more."""
    pictures = runpy.run_path(str(ROOT / "examples" / "draw_picture.py"))
    drawn = pictures[draw](demo_files()[0].data)
    shown = (ROOT / "examples" / pictures[file]).read_bytes()
    now, then = (Image.open(io.BytesIO(png)).convert("L") for png in (drawn, shown))
    assert now.size == then.size
    assert ImageStat.Stat(ImageChops.difference(now, then)).mean[0] < 0.5


def test_ci_runs_the_command_of_the_readme():
    assert re.search(r"^pip install .*pytest", README, re.MULTILINE)

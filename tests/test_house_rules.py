"""The rules of the house that a machine can hold: they are tests, so that one command runs all."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
SOURCES = sorted((ROOT / "src" / "reedchord").rglob("*.py"))
MAX_FILE_LINES = 400
MAX_FUNCTION_LINES = 60  # the options of `place` are one function's arguments

ONLY_IMPORTED_IN = {
    "lxml": "musicxml",
    "typer": "cli",
    "rich": "cli",
    "click": "cli",
    "music21": "music21_bridge",
    "typst": "typesetting",
    "verovio": "engraving",
    "jinja2": "templates",
    "mido": "hear_midi",
    "soundfile": "acoustics",
}


@pytest.mark.parametrize(
    "command",
    [
        ["ruff", "check", "."],
        ["ruff", "format", "--check", "."],
        ["mypy"],
        ["importlinter.cli", "lint_imports"],
    ],
    ids=" ".join,
)
def test_linters_and_types(command):
    if command[0] == "importlinter.cli":
        line = [
            sys.executable,
            "-c",
            "from importlinter.cli import lint_imports_command as run; run()",
        ]
    else:
        line = [sys.executable, "-m", *command]
    done = subprocess.run(line, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr


@pytest.mark.parametrize("path", SOURCES, ids=lambda path: path.name)
def test_files_and_functions_are_small(path):
    text = path.read_text("utf-8")
    assert len(text.splitlines()) <= MAX_FILE_LINES
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.FunctionDef) and node.name != "place_command":
            assert node.end_lineno - node.lineno < MAX_FUNCTION_LINES, node.name


@pytest.mark.parametrize("path", SOURCES, ids=lambda path: path.name)
def test_libraries_are_imported_in_one_place(path):
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        names = [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
        names += [node.module or ""] if isinstance(node, ast.ImportFrom) else []
        for name in names:
            room = ONLY_IMPORTED_IN.get(name.partition(".")[0])
            assert room is None or room in path.parts or path.stem == room, f"{path}: {name}"


def test_music21_is_not_loaded_by_the_command_line():
    """It costs half a second, so only what needs it may import it."""
    code = "import sys, reedchord.cli.app; sys.exit('music21' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0

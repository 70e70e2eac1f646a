"""Run the command line on every hostile file, each in a process with limits of its own.

`python -m hostile.under_limits FOLDER` writes what came of each to FOLDER/outcomes.json.
"""

from __future__ import annotations

import io
import json
import os
import resource
import sys
import traceback
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path
from typing import Any

from hostile.hostile_documents import Hostile
from hostile.hostile_files import HOSTILE
from reedchord.cli.app import app, main
from reedchord.demo import demo_files, write_demo
from reedchord.errors import ReedchordError

CPU_SECONDS = 60
_KILOBYTE = 1 if sys.platform == "darwin" else 1024


def outcomes(folder: Path) -> dict[str, dict[str, Any]]:
    """Return what came of each file: status, code, talk, new files, memory and time."""
    write_demo(folder, demo_files()[1])
    os.chdir(folder)
    _in_process(Path("harbour-lights.musicxml"))  # what is imported late is imported now
    return {one.name: _forked(one) for one in HOSTILE.values()}


def _forked(hostile: Hostile) -> dict[str, Any]:
    """Return the outcome of one file, run in a child so that its peak of memory is its own."""
    path = Path(f"hostile{hostile.suffix}")
    path.write_bytes(hostile.data)
    before = {file.name: file.read_bytes() for file in Path().iterdir() if file.is_file()}
    answer = Path("answer.json")
    child = os.fork()
    if child == 0:
        _limited(path, answer)
    _, status = os.waitpid(child, 0)
    outcome = json.loads(answer.read_bytes()) if status == 0 else {"killed": status}
    answer.unlink(missing_ok=True)
    after = {file.name: file.read_bytes() for file in Path().iterdir() if file.is_file()}
    path.unlink()
    return {**outcome, "bytes": len(hostile.data), "nothing_written": before == after}


def _limited(path: Path, answer: Path) -> None:
    """Run the child's work and end the child, whatever happens."""
    try:
        resource.setrlimit(resource.RLIMIT_CPU, (CPU_SECONDS, CPU_SECONDS))
        start = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
        outcome = _in_process(path)
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
        outcome["grown_bytes"] = (peak - start) * _KILOBYTE
        answer.write_text(json.dumps(outcome))
        os._exit(0)
    except BaseException:
        traceback.print_exc()
        os._exit(1)


def _in_process(path: Path) -> dict[str, Any]:
    """Run `reedchord place` on a file; return its status, its talk and the error's code."""
    place = ["--collection", "harbour-band.yaml", "--part", "P1", "--bar", "1"]
    sys.argv = ["reedchord", "place", str(path), "alto-slack-water", *place, "-o", "out.musicxml"]
    status, code, talk, said = 0, "none", io.StringIO(), io.StringIO()
    with redirect_stderr(talk), redirect_stdout(said):
        try:
            main()
        except SystemExit as end:
            status = int(end.code or 0)
        try:
            app(standalone_mode=False)
        except ReedchordError as error:
            code = error.code
    return {"status": status, "code": code, "talk": talk.getvalue(), "result": said.getvalue()}


if __name__ == "__main__":
    target = Path(sys.argv[1])
    found = outcomes(target)
    (target / "outcomes.json").write_text(json.dumps(found), "utf-8")

"""`reedchord demo`: the main job on the example that comes with the package."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from reedchord.cli import output


def demo_command(
    out: Annotated[Path, typer.Argument(help="Folder for the files.")],
) -> None:
    """Write an example: invented sonorities in an invented score."""
    from reedchord.demo import demo_files, write_demo
    from reedchord.placement.report import report
    from reedchord.wording import CAUTIONS

    placed, files = demo_files()
    write_demo(out, files)
    for sentence in (*report(placed), "", *(f"wrote {out / f.name}: {f.meaning}" for f in files)):
        output.say(sentence)
    for sentence in placed.warnings:
        output.note(sentence)
    for sentence in CAUTIONS:
        output.note(sentence)

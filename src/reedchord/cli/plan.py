"""`reedchord plan`: the plan that a score holds."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from reedchord.cli import output
from reedchord.cli.options import ScoreArgument
from reedchord.cli.target import refuse_overwriting, refuse_score_name
from reedchord.errors import ReedchordError, Where


def plan_command(
    score: ScoreArgument,
    out: Annotated[
        Path | None, typer.Option("--output", "-o", help="File to write; else it is printed.")
    ] = None,
) -> None:
    """Write the plan that a score holds, as `place --plan` takes it."""
    from reedchord.placement.held_plan import held_plan
    from reedchord.score_files import read_score_file, write_atomically

    if out is not None:
        refuse_overwriting(out, [score])
        refuse_score_name(out, "a plan", "plan.yaml")
    try:
        text = held_plan(read_score_file(score).data)
    except ReedchordError as error:
        raise error.at(Where(path=str(score))) from None
    if out is None:
        output.result(text)
        return
    write_atomically(out, text.encode("utf-8"))
    output.say(f"wrote {out}")

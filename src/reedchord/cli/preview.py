"""`reedchord preview`: bars of a score as they will look, sonorities marked."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from reedchord.cli import output
from reedchord.cli.options import (
    BarsOption,
    PaperOption,
    PartsOption,
    PlanCollectionOption,
    PlanOption,
    ScoreArgument,
)


def preview_command(
    score: ScoreArgument,
    out: Annotated[Path, typer.Option("--output", "-o", help="File.svg, .png, .pdf or .html.")],
    bars: BarsOption = None,
    part: PartsOption = None,
    before_after: Annotated[
        bool, typer.Option("--before-after", help="The score without sonorities above.")
    ] = False,
    plan: PlanOption = None,
    collection: PlanCollectionOption = None,
    paper: PaperOption = "a4",
) -> None:
    """Engrave bars of a score, its sonorities marked.

    The marks stand at the notes and in the margin. Without --bars, those around the sonorities
    are shown.
    """
    from reedchord.cli.planned_score import planned_score
    from reedchord.drawing.paper import paper_named
    from reedchord.errors import ReedchordError, Where
    from reedchord.pages.preview import preview
    from reedchord.pages.preview_files import PreviewFormat, preview_bytes, preview_format
    from reedchord.score_files import write_atomically

    kind, size = preview_format(out), paper_named(paper)
    planned = planned_score(score, plan, collection)
    try:
        made = preview(
            planned.data,
            bars=bars,
            parts=part or (),
            before_after=before_after,
            paged=kind is PreviewFormat.PDF,
        )
    except ReedchordError as error:
        raise error.at(Where(path=str(score))) from None
    write_atomically(out, preview_bytes(made, kind, size))
    shown = ", ".join(entry.heading.lower() for entry in made.bars)
    output.say(f"wrote {out}: {shown}; {made.placements} marked")

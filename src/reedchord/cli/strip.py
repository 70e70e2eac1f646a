"""`reedchord strip`: a score without its placements."""

from __future__ import annotations

import typer

from reedchord.cli import output
from reedchord.cli.options import (
    DiffOption,
    DryRunOption,
    InPlaceOption,
    ScoreArgument,
    ScoreOutputOption,
)
from reedchord.cli.target import chosen_target
from reedchord.cli.written_score import refuse_no_output, show_or_write
from reedchord.errors import ReedchordError, Where

EXIT_SOMETHING_LEFT = 1


def strip_command(
    score: ScoreArgument,
    out: ScoreOutputOption = None,
    in_place: InPlaceOption = False,
    diff: DiffOption = False,
    dry_run: DryRunOption = False,
) -> None:
    """Take all sonorities out of a score again.

    Where nobody edited it in between, this gives the exact bytes from before. In a score that
    was edited since, every sonority that is as it was placed gives way to what stood there
    before, and what others added stays. A chord that was edited stays as it is, and the status
    is 1. With --diff or --dry-run nothing is written.
    """
    from reedchord.placement.strip import strip
    from reedchord.score_files import read_score_file

    writes = not (diff or dry_run)
    target = chosen_target(score, out, in_place=in_place)
    refuse_no_output(target, writes=writes)
    file = read_score_file(score)
    try:
        stripped = strip(file.data)
    except ReedchordError as error:
        raise error.at(Where(path=str(score))) from None
    output.say(f"placements taken out: {stripped.count}")
    if not stripped.is_exact:
        output.note("the score was edited since: the bytes from before are not known")
    for sentence in (*file.notes, *stripped.left):
        output.note(sentence)
    show_or_write(stripped, file, score, target if writes else None, diff=diff)
    if stripped.stay:
        raise typer.Exit(EXIT_SOMETHING_LEFT)

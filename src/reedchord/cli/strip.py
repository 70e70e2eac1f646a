"""`reedchord strip`: a score without its placements."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from reedchord.cli import output
from reedchord.cli.target import chosen_target
from reedchord.cli.written_score import tell_stale_companions, write_score
from reedchord.errors import ReedchordError, RequestError, Where

EXIT_SOMETHING_LEFT = 1


def strip_command(
    score: Annotated[Path, typer.Argument(help="Score with sonorities in it; - reads it.")],
    out: Annotated[
        Path | None, typer.Option("--output", "-o", help="Score to write; - prints.")
    ] = None,
    in_place: Annotated[bool, typer.Option("--in-place", help="Change the score itself.")] = False,
) -> None:
    """Take all sonorities out again: the exact bytes from before, if nobody edited in between.

    In a score that was edited since, every sonority that is as it was placed gives way to
    what stood there before, and what others added stays. A chord that was edited stays as
    it is, and the status is 1.
    """
    from reedchord.placement.strip import strip
    from reedchord.score_files import as_file, read_score_file

    target = chosen_target(score, out, in_place=in_place)
    if target is None:
        raise RequestError(
            "strip.no-output", "no output is named", hint="Write to -o FILE or --in-place."
        )
    file = read_score_file(score)
    try:
        stripped = strip(file.data)
    except ReedchordError as error:
        raise error.at(Where(path=str(score))) from None
    tell_stale_companions(file)
    output.say(f"took {stripped.count} placements out")
    write_score(as_file(stripped.data, file, target), target)
    if not stripped.is_exact:
        output.note("the score was edited since: the bytes from before are not known")
    for sentence in stripped.left:
        output.note(sentence)
    if stripped.stay:
        raise typer.Exit(EXIT_SOMETHING_LEFT)

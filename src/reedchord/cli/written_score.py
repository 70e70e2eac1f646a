"""What commands that change a score do at their end: show the changes, or write them."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import typer

from reedchord.cli import output
from reedchord.errors import RequestError

if TYPE_CHECKING:
    from reedchord.musicxml.score_file import ScoreFile
    from reedchord.placement.place import PlacedScore
    from reedchord.placement.strip import StrippedScore

EXIT_WOULD_CHANGE = 1


def refuse_no_output(target: Path | None, *, writes: bool) -> None:
    """Raise RequestError where something is to be written and nobody said where."""
    if writes and target is None:
        raise RequestError(
            "output.none",
            "no output is named",
            hint="Write to -o FILE or --in-place; or look first with --diff or --dry-run.",
        )


def show_or_write(
    changed: PlacedScore | StrippedScore,
    file: ScoreFile,
    score: Path,
    target: Path | None,
    *,
    diff: bool,
) -> None:
    """Print the changes where that is wished, and write the score where a target is given.

    Without one the status tells whether something would change.
    """
    from reedchord.placement.report import changes
    from reedchord.score_files import as_file

    tell_stale_companions(file)
    if diff:
        output.result(changes(changed.before, changed.after, str(score)))
    if target is None:
        output.say("nothing was written")
        raise typer.Exit(EXIT_WOULD_CHANGE if changed.before != changed.after else 0)
    write_score(as_file(changed.data, file, target), target)


def tell_stale_companions(file: ScoreFile) -> None:
    """Say which other files of a package still show the old music."""
    from reedchord.musicxml.container import stale_companions

    stale = stale_companions(file)
    if stale:
        stay = "which stays as it was" if len(stale) == 1 else "which stay as they were"
        output.note(f"the package also holds {', '.join(stale)}, {stay}")


def write_score(data: bytes, target: Path) -> None:
    """Write a score and say so, also where it was so already."""
    from reedchord.score_files import STANDARD_STREAM, read_bytes, write_atomically

    is_stream = str(target) == STANDARD_STREAM
    same = not is_stream and target.is_file() and read_bytes(target) == data
    write_atomically(target, data)
    name = "the score to standard output" if is_stream else target
    output.say(f"{target} was so already" if same else f"wrote {name}")

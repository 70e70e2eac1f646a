"""Pictures that commands draw: the name is looked at before the work, the file written after it."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

from reedchord.cli import output
from reedchord.cli.target import refuse_overwriting
from reedchord.score_files import STANDARD_STREAM, write_atomically

if TYPE_CHECKING:
    from reedchord.drawing.picture_files import Picture


def refuse_other_picture(out: Path, inputs: Iterable[Path | None]) -> None:
    """Raise RequestError where a picture cannot have this name, or would overwrite an input."""
    from reedchord.drawing.picture_files import picture_format

    picture_format(out)
    refuse_overwriting(out, inputs)


def write_picture(drawn: Picture, out: Path, *, says: str) -> None:
    """Write a picture in the format of the file's ending, and what it says; `-` prints SVG."""
    from reedchord.drawing.picture_files import PictureFormat, picture_bytes, picture_format

    printed = str(out) == STANDARD_STREAM
    picture = picture_bytes(
        drawn.svg,
        PictureFormat.SVG if printed else picture_format(out),
        width_mm=drawn.width_mm,
        height_mm=drawn.height_mm,
        title=drawn.title,
        words=drawn.words,
    )
    write_atomically(out, picture)
    if not printed:
        output.say(f"wrote {out}: {says}; {drawn.width_mm:g} by {drawn.height_mm:g} mm")

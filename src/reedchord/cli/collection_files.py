"""Writing collections for the commands that make them; an input is never written over."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from reedchord.cli import output
from reedchord.collection import Collection
from reedchord.errors import RequestError
from reedchord.score_files import write_atomically


def write_collection(
    text: str, collection: Collection, out: Path | None, *, inputs: Iterable[Path | None]
) -> None:
    """Write the text of a checked collection to a file, or print it; say what was done."""
    if out is None:
        output.result(text)
        return
    refuse_input(out, inputs)
    write_atomically(out, text.encode("utf-8"))
    output.say(f"wrote {out}: {len(collection)} sonorities, {len(collection.sources)} sources")


def refuse_input(out: Path, inputs: Iterable[Path | None]) -> None:
    """Raise RequestError where a file to be written is one that was read."""
    for read in inputs:
        if read is not None and out.exists() and read.exists() and out.samefile(read):
            raise RequestError(
                "file.input", f"{out} is read from", hint="Name another file behind -o."
            )

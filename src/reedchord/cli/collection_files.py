"""Writing collections for the commands that make them; an input is never written over."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from reedchord.cli import output
from reedchord.cli.target import refuse_overwriting
from reedchord.collection import SUFFIXES, Collection
from reedchord.file_endings import refused_ending
from reedchord.numbers_as_text import counted
from reedchord.score_files import write_atomically
from reedchord.sonority import Sonority
from reedchord.sonority_rules import warnings


def write_collection(
    text: str, collection: Collection, out: Path | None, *, inputs: Iterable[Path | None]
) -> None:
    """Write the text of a checked collection to a file, or print it; say what was done."""
    if out is None:
        output.result(text)
        return
    refuse_overwriting(out, inputs)
    write_atomically(out, text.encode("utf-8"))
    many = counted(len(collection), "sonority"), counted(len(collection.sources), "source")
    output.say(f"wrote {out}: {', '.join(many)}")


def tell_what_is_unusual(added: Iterable[Sonority]) -> None:
    """Note what in new records may be right, and is unusual."""
    for sonority in added:
        for sentence in warnings(sonority):
            output.note(f"{sonority.id}: {sentence}")


def refuse_other_name(out: Path | None) -> None:
    """Raise RequestError where a collection would stand under the name of something else."""
    if out is not None and out.suffix.casefold() not in SUFFIXES:
        raise refused_ending(out, SUFFIXES, "a collection")

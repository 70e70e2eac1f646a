"""`reedchord collection merge`: several collections become one."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from reedchord.cli import output


def merge_command(
    files: Annotated[list[Path], typer.Argument(help="Files or folders of sonorities.")],
    out: Annotated[
        Path | None, typer.Option("--output", "-o", help="Collection to write; else it is printed.")
    ] = None,
    rename: Annotated[
        bool, typer.Option("--rename", help="A later record or source that differs gets a new id.")
    ] = False,
) -> None:
    """Join collections; equal records become one.

    The same fingering of two sources is linked.
    """
    from reedchord.cli.collection_files import refuse_other_name, write_collection
    from reedchord.collection_reading import parse_collection
    from reedchord.exchange.export import exported
    from reedchord.exchange.merge import merge_collections

    refuse_other_name(out)
    merged = merge_collections(files, rename=rename, out=str(out or "merged.yaml"))
    collection, text = merged.collection, merged.text
    if out is not None and out.suffix.casefold() == ".json":
        text = exported(collection, "json")
        collection = parse_collection(text, str(out))
    for sentence in (*merged.notes, *collection.warnings):
        output.note(sentence)
    write_collection(text, collection, out, inputs=files)

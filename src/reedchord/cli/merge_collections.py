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
        bool, typer.Option("--rename", help="A later record that differs gets a new id.")
    ] = False,
) -> None:
    """Join collections: equal records become one, same fingerings of two sources are linked."""
    from reedchord.cli.collection_files import refuse_other_name, write_collection
    from reedchord.exchange.export import exported
    from reedchord.exchange.merge import merge_collections

    refuse_other_name(out)
    merged = merge_collections(files, rename=rename)
    for sentence in (*merged.notes, *merged.collection.warnings):
        output.note(sentence)
    as_json = out is not None and out.suffix.casefold() == ".json"
    text = exported(merged.collection, "json") if as_json else merged.text
    write_collection(text, merged.collection, out, inputs=files)

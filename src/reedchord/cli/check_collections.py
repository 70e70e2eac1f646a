"""`reedchord collection check`: read collections and say what is wrong with them."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from reedchord.cli import output
from reedchord.errors import ReedchordError, raise_all
from reedchord.numbers_as_text import counted


def check_collections_command(
    files: Annotated[list[Path], typer.Argument(help="Files or folders of sonorities.")],
) -> None:
    """Check files of sonorities, and tell every mistake.

    Each is told with its file, line, record and field.
    """
    from reedchord.collection_reading import read_collection

    errors: list[ReedchordError] = []
    for file in files:
        try:
            collection = read_collection(file)
        except ReedchordError as error:
            errors.append(error)
            continue
        for sentence in collection.warnings:
            output.note(sentence)
        members = sorted({sonority.saxophone.name for sonority in collection})
        output.result(
            f"{file}: {counted(len(collection), 'sonority')} for {', '.join(members)}; "
            f"{counted(len(collection.sources), 'source')}; no mistakes\n"
        )
    raise_all(errors)

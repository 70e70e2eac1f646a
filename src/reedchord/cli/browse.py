"""`reedchord browse`: a collection as one page with filters."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from reedchord.cli import output
from reedchord.numbers_as_text import counted


def browse_command(
    collection: Annotated[Path, typer.Argument(help="File or folder of sonorities, YAML or JSON.")],
    out: Annotated[Path, typer.Option("--output", "-o", help="File.html; - prints the page.")],
) -> None:
    """Make one page of a collection, to look, filter and print.

    It needs no network.
    """
    from reedchord.collection_reading import read_collection
    from reedchord.pages.browse import browse_page, check_page_name
    from reedchord.score_files import STANDARD_STREAM, write_atomically

    printed = str(out) == STANDARD_STREAM
    if not printed:
        check_page_name(out)
    sonorities = read_collection(collection)
    write_atomically(out, browse_page(sonorities).encode("utf-8"))
    if not printed:
        output.say(f"wrote {out}: {counted(len(sonorities), 'sonority')}; open it in a browser")

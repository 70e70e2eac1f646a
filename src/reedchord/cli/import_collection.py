"""`reedchord collection import`: a spreadsheet saved as CSV becomes a collection."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from reedchord.cli import output
from reedchord.cli.written_score import EXIT_WOULD_CHANGE
from reedchord.errors import RequestError
from reedchord.numbers_as_text import counted


def import_command(
    spreadsheet: Annotated[Path, typer.Argument(help="Spreadsheet saved as CSV; - reads it.")],
    mapping: Annotated[
        Path | None, typer.Option("--mapping", "-m", help="What the columns hold, as YAML.")
    ] = None,
    settings: Annotated[
        list[str] | None,
        typer.Option(
            "--set", help="What holds for all rows: saxophone=alto.", metavar="FIELD=TEXT"
        ),
    ] = None,
    out: Annotated[
        Path | None, typer.Option("--output", "-o", help="Collection to write; else it is printed.")
    ] = None,
    skip_bad: Annotated[
        bool, typer.Option("--skip-bad", help="Leave out rows with mistakes, and list them.")
    ] = False,
    dry_run: Annotated[bool, typer.Option("--dry-run", help="Say what would be written.")] = False,
) -> None:
    """Make a collection of a spreadsheet.

    Every cell that cannot be read is told by its place.
    """
    from reedchord.cli.collection_files import refuse_other_name, write_collection
    from reedchord.exchange.csv_import import import_csv
    from reedchord.exchange.csv_mapping import read_mapping
    from reedchord.score_files import read_bytes

    refuse_other_name(out)
    made = import_csv(
        read_bytes(spreadsheet),
        str(spreadsheet),
        mapping=read_mapping(mapping) if mapping else None,
        settings=dict(map(_setting, settings or [])),
        skip_bad=skip_bad,
        out=str(out or "collection.yaml"),
    )
    for sentence in (*made.notes, *made.collection.warnings):
        output.note(sentence)
    for error in made.skipped:
        output.note(f"left out: {error}")
    if dry_run:
        output.say(f"would write {counted(len(made.collection), 'sonority')}; nothing is written")
        raise typer.Exit(EXIT_WOULD_CHANGE)
    write_collection(made.text, made.collection, out, inputs=[spreadsheet, mapping])


def _setting(text: str) -> tuple[str, str]:
    name, sign, value = (part.strip() for part in text.partition("="))
    if not (name and sign and value):
        raise RequestError(
            "import.setting",
            f"{text!r} says nothing about a field",
            hint='Write the field, = and what holds: --set "source title=Practice log".',
        )
    return name, value

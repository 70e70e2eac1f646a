"""`reedchord collection export`: a collection as CSV or JSON, its sources as BibTeX or CSL."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from reedchord.cli import output
from reedchord.errors import RequestError


class ExportFormat(StrEnum):
    """What a collection can be exported as."""

    CSV = "csv"
    JSON = "json"
    YAML = "yaml"
    BIBTEX = "bibtex"
    CSL = "csl"


_ENDINGS = {
    ".csv": (ExportFormat.CSV,),
    ".json": (ExportFormat.JSON, ExportFormat.CSL),
    ".csl.json": (ExportFormat.CSL,),
    ".yaml": (ExportFormat.YAML,),
    ".yml": (ExportFormat.YAML,),
    ".bib": (ExportFormat.BIBTEX,),
}


def export_command(
    collection: Annotated[Path, typer.Argument(help="File or folder of sonorities.")],
    out: Annotated[
        Path | None,
        typer.Option(
            "--output", "-o", help="File to write, its ending tells the format; else printed."
        ),
    ] = None,
    form: Annotated[
        str | None,
        typer.Option(
            "--format", "-f", help="csv, json or yaml; of the sources: bibtex or csl (CSL-JSON)."
        ),
    ] = None,
) -> None:
    """Write records as CSV or JSON, their sources as BibTeX."""
    from reedchord.cli.target import refuse_overwriting
    from reedchord.collection_reading import read_collection
    from reedchord.exchange.export import exported
    from reedchord.file_endings import chosen_format
    from reedchord.score_files import STANDARD_STREAM, write_atomically

    chosen = chosen_format(form, out, ExportFormat, _ENDINGS, "a collection or its sources")
    if chosen is None:
        raise RequestError(
            "export.format",
            "neither a file nor a format is named",
            hint=f"Write -o FILE.csv, or --format with one of: {', '.join(ExportFormat)}.",
        )
    text = exported(read_collection(collection), chosen.value)
    if out is None or str(out) == STANDARD_STREAM:
        output.result(text)
        return
    refuse_overwriting(out, [collection])
    # Spreadsheet programs take the mark for a sign of UTF-8 (common practice, no source).
    encoding = "utf-8-sig" if chosen is ExportFormat.CSV else "utf-8"
    write_atomically(out, text.encode(encoding))
    output.say(f"wrote {out}")

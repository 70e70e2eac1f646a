"""`reedchord collection export`: a collection as CSV or JSON, its sources as BibTeX or CSL."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from reedchord.cli import output
from reedchord.errors import RequestError, did_you_mean


class ExportFormat(StrEnum):
    """What a collection can be exported as."""

    CSV = "csv"
    JSON = "json"
    YAML = "yaml"
    BIBTEX = "bibtex"
    CSL = "csl"


_BY_SUFFIX = {
    ".csl.json": ExportFormat.CSL,
    ".csv": ExportFormat.CSV,
    ".json": ExportFormat.JSON,
    ".yaml": ExportFormat.YAML,
    ".yml": ExportFormat.YAML,
    ".bib": ExportFormat.BIBTEX,
}


def export_command(
    collection: Annotated[Path, typer.Argument(help="File or folder of sonorities.")],
    out: Annotated[
        Path | None, typer.Option("--output", "-o", help="File to write; its ending chooses.")
    ] = None,
    kind: Annotated[
        ExportFormat | None,
        typer.Option("--format", "-f", help="Format, where no ending tells it."),
    ] = None,
) -> None:
    """Write all records as CSV or JSON, or their sources as BibTeX or CSL-JSON."""
    from reedchord.cli.target import refuse_overwriting
    from reedchord.collection import read_collection
    from reedchord.exchange.export import exported
    from reedchord.score_files import write_atomically

    chosen = kind or _format_of(out)
    text = exported(read_collection(collection), chosen.value)
    if out is None:
        output.result(text)
        return
    refuse_overwriting(out, [collection])
    # Spreadsheet programs take the mark for a sign of UTF-8 (common practice, no source).
    encoding = "utf-8-sig" if chosen is ExportFormat.CSV else "utf-8"
    write_atomically(out, text.encode(encoding))
    output.say(f"wrote {out}")


def _format_of(out: Path | None) -> ExportFormat:
    if out is None:
        raise RequestError(
            "export.format",
            "neither a file nor a format is named",
            hint=f"Write -o FILE.csv, or --format with one of: {', '.join(ExportFormat)}.",
        )
    name = out.name.casefold()
    for suffix, kind in _BY_SUFFIX.items():
        if name.endswith(suffix):
            return kind
    raise RequestError(
        "export.format",
        f"the ending of {out.name!r} names no format",
        hint=did_you_mean(out.suffix, _BY_SUFFIX),
    )

"""The options of `reedchord check`."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

ScoresArgument = Annotated[list[Path], typer.Argument(help="Scores; - reads standard input.")]
CollectionOption = Annotated[
    Path | None,
    typer.Option(
        "--collection",
        "-c",
        help="File or folder of sonorities: what could stand there instead, and newer records.",
    ),
]
TempoOption = Annotated[str | None, typer.Option(help="Tempo where none is marked: quarter = 72.")]
FormatOption = Annotated[
    str | None, typer.Option("--format", "-f", help="text (as usual), json or sarif (2.1.0).")
]
SelectOption = Annotated[
    list[str] | None,
    typer.Option(help="Only these rules: codes as speed.too-fast, or subjects as speed."),
]
IgnoreOption = Annotated[list[str] | None, typer.Option(help="Not these rules.")]
FailOnOption = Annotated[
    str | None,
    typer.Option(help="Least severity for status 1: error, warning (as usual) or note."),
]
PerformanceOption = Annotated[
    bool, typer.Option("--for-performance", help="Made-up sonorities are errors, too.")
]
ConfigOption = Annotated[
    Path | None, typer.Option("--config", help="Configuration instead of the folder's own.")
]

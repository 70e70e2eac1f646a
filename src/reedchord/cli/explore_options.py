"""The options of `reedchord explore`."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

_Option = typer.Option

FromOption = Annotated[
    str | None, _Option("--from", help="Written note, sonority, or fingering to start from.")
]
SaxophoneOption = Annotated[str | None, _Option(help="Member of the family: alto.")]
ChangesOption = Annotated[int, _Option(min=1, max=2, help="How many changes at most.")]
MostOption = Annotated[int, _Option(min=1, help="How many fingerings, the easiest.")]
CollectionOption = Annotated[
    Path | None,
    _Option(
        "--collection",
        "-c",
        envvar="REEDCHORD_COLLECTION",
        help="File or folder of sonorities; what it holds already is left out.",
    ),
]
OutputOption = Annotated[
    Path | None, _Option("--output", "-o", help="Sheet.html or .pdf, or list.yaml to be filled in.")
]
FilledOption = Annotated[
    Path | None, _Option(help="A list that was filled in: put its records into -o.")
]
SetUpOption = Annotated[
    Path | None, _Option("--set-up", help="Your set-up: its saxophone, and the head of the sheet.")
]

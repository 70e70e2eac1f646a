"""Options of `reedchord measure`: the takes, and what the record needs that no sound tells."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

Option = typer.Option

TakesArgument = Annotated[
    list[Path], typer.Argument(help="Recordings of one sonority: WAV, FLAC, OGG.")
]
ComparedOption = Annotated[
    str | None, Option(help="Id of the record to compare with; gives saxophone, fingering.")
]
MemberOption = Annotated[str | None, Option(help="Saxophone, for written pitches: alto.")]
FromOption = Annotated[float, Option("--from", min=0, help="Begin at this second.")]
ToOption = Annotated[float | None, Option("--to", min=0, help="End at this second.")]
PartialsOption = Annotated[int, Option(min=0, help="How many partials to list.")]
ChooseOption = Annotated[
    str | None, Option("--choose", help="Tones for the record: 1,3, a partial p5, or all.")
]
FingeringOption = Annotated[
    str | None, Option(help='Fingering for the record: "left 1 2 3 | right 1".')
]
DynamicsOption = Annotated[
    str | None, Option(help="From which mark to which the take goes: pp-ff.")
]
IdOption = Annotated[str | None, Option("--id", help="Id of the new record.")]
SetUpOption = Annotated[Path | None, Option("--set-up", help="File of your set-up.")]
RecordOption = Annotated[
    Path | None, Option("--output", "-o", help="Collection to add the record to, old or new.")
]
PictureOption = Annotated[
    Path | None, Option("--picture", help="File.svg, .png or .pdf; of the first take.")
]

"""The options of `reedchord chain`."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

_Option = typer.Option

WishesArgument = Annotated[Path | None, typer.Argument(help="File of wishes, YAML or JSON.")]
CollectionOption = Annotated[
    Path | None,
    _Option("--collection", "-c", help="File or folder of sonorities; else the wishes' own."),
]
ConcertOption = Annotated[
    str | None, _Option(help="Instead of a file, harmonies in concert pitch: 'F4 C5; G4 D5'.")
]
EachOption = Annotated[str | None, _Option(help="How long each of them lasts: half.")]
TempoOption = Annotated[str | None, _Option(help="Metronome mark: 'quarter = 72' or 72.")]
AtOption = Annotated[str | None, _Option(help="Dynamic mark of them all.")]
SaxophoneOption = Annotated[
    list[str] | None, _Option(help="Who plays; repeated, a section that shares the row.")
]
AlternativesOption = Annotated[int, _Option(min=0, help="How many next best ones to show.")]
CandidatesOption = Annotated[
    int | None, _Option(min=1, help="Weigh just so many for a wish, not all that a proof needs.")
]
ChooseOption = Annotated[
    int, _Option("--choose", min=1, help="Which one becomes the plan; 1 is the best.")
]
OutputOption = Annotated[Path | None, _Option("--output", "-o", help="Plan to write.")]

"""Options that several commands share."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

CollectionOption = Annotated[
    Path,
    typer.Option("--collection", "-c", help="File or folder of sonorities, YAML or JSON."),
]
BritishOption = Annotated[
    bool, typer.Option("--british", help="Crotchets and quavers instead of quarters and eighths.")
]
SonorityArgument = Annotated[str, typer.Argument(help="Id of a sonority in the collection.")]

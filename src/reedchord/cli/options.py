"""Options that several commands share."""

from __future__ import annotations

import datetime
from pathlib import Path
from typing import Annotated

import typer

from reedchord.cli import output
from reedchord.demo_paths import COLLECTION, shipped_path

CollectionOption = Annotated[
    Path,
    typer.Option(
        "--collection",
        "-c",
        envvar="REEDCHORD_COLLECTION",
        help="File or folder of sonorities, YAML or JSON.",
    ),
]
BritishOption = Annotated[
    bool, typer.Option("--british", help="Crotchets and quavers instead of quarters and eighths.")
]
PitchNamesOption = Annotated[
    str, typer.Option(help="english, or german: H is B natural, B is B flat, Fis is F sharp.")
]
SonorityArgument = Annotated[str, typer.Argument(help="Id of a sonority in the collection.")]

OptionalCollection = Annotated[
    Path | None,
    typer.Option(
        "--collection",
        "-c",
        envvar="REEDCHORD_COLLECTION",
        help="File or folder of sonorities; without it, the invented demonstration's.",
    ),
]

PlanOption = Annotated[
    Path | None,
    typer.Option(help="File of placements, made in memory first; the score may hold none."),
]
PlanCollectionOption = Annotated[
    Path | None,
    typer.Option("--collection", "-c", help="File or folder of sonorities; else the plan's own."),
]
PaperOption = Annotated[str, typer.Option(help="Paper of a PDF: a4 or letter.")]


def today() -> str:
    """Return the day where the user is: 2031-11-25."""
    return datetime.datetime.now().astimezone().date().isoformat()


def named_collection(collection: Path | None) -> Path:
    """Return the collection that was named, else the demonstration's, and say so."""
    if collection is not None:
        return collection
    output.note("no --collection is named: these are the demonstration's sonorities, all invented")
    return shipped_path(COLLECTION)

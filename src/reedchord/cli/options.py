"""Options that several commands share: the same letters, words and bounds in each."""

from __future__ import annotations

import datetime
import os
from pathlib import Path
from typing import Annotated

import typer

from reedchord.cli import output
from reedchord.demo_paths import COLLECTION, shipped_path
from reedchord.errors import RequestError
from reedchord.pitch import HIGHEST_A4_HZ, LOWEST_A4_HZ, checked_a4_hz

_Option = typer.Option
_COLLECTION_VARIABLE = "REEDCHORD_COLLECTION"

ScoreArgument = Annotated[Path, typer.Argument(help="Score with sonorities in it; - reads it.")]
SonorityArgument = Annotated[str, typer.Argument(help="Id of a sonority in the collection.")]

CollectionOption = Annotated[
    Path,
    _Option(
        "--collection",
        "-c",
        envvar=_COLLECTION_VARIABLE,
        help="File or folder of sonorities, YAML or JSON.",
    ),
]
OptionalCollection = Annotated[
    Path | None,
    _Option(
        "--collection",
        "-c",
        envvar=_COLLECTION_VARIABLE,
        help="File or folder of sonorities; without it, the invented demonstration's.",
    ),
]
OfferingCollection = Annotated[
    Path | None,
    _Option(
        "--collection",
        "-c",
        envvar=_COLLECTION_VARIABLE,
        help="File or folder of sonorities to offer others from.",
    ),
]
PlanCollectionOption = Annotated[
    Path | None,
    _Option("--collection", "-c", help="File or folder of sonorities; else the plan's own."),
]
PlanOption = Annotated[
    Path | None,
    _Option("--plan", help="File of placements, made in memory first; the score may hold none."),
]

PartsOption = Annotated[
    list[str] | None,
    _Option("--part", "-p", help="Only this part, by id or name; may be repeated."),
]
BarsOption = Annotated[str | None, _Option("--bars", help="Only these bars: 10, 10-14 or 3,@7.")]
A4Option = Annotated[
    float,
    _Option(
        "--a4",
        callback=checked_a4_hz,
        help=f"Pitch of A4 in Hz, {LOWEST_A4_HZ:g} to {HIGHEST_A4_HZ:g}.",
    ),
]

BritishOption = Annotated[
    bool, _Option("--british", help="Crotchets and quavers instead of quarters and eighths.")
]
PitchNamesOption = Annotated[
    str,
    _Option("--pitch-names", help="english, or german: H is B natural, B is B flat, Fis F sharp."),
]
PaperOption = Annotated[str, _Option("--paper", help="Paper of a PDF: a4 or letter.")]
JsonOption = Annotated[bool, _Option("--json", help="JSON for programs.")]

ScoreOutputOption = Annotated[
    Path | None, _Option("--output", "-o", help="Score to write; - prints it.")
]
InPlaceOption = Annotated[bool, _Option("--in-place", help="Change the score itself.")]
DiffOption = Annotated[bool, _Option("--diff", help="Print the changes, write nothing.")]
DryRunOption = Annotated[bool, _Option("--dry-run", help="Say what would be done only.")]


def speak(*, british: bool, pitch_names: str, explained: bool = False) -> None:
    """Let all that follows be told as the options say; what names mean is noted, or `explained`."""
    from reedchord.pitch_names import ABOUT_NAMES, PitchNames
    from reedchord.pitch_names import pitch_names as named
    from reedchord.reader import Reader, speak_to

    names = named(pitch_names)
    speak_to(Reader(british, names))
    if names is not PitchNames.ENGLISH and not explained:
        output.note(f"{ABOUT_NAMES[names]} So do pitches that are typed.")


def today() -> str:
    """Return the day where the user is: 2031-11-25."""
    return datetime.datetime.now().astimezone().date().isoformat()


def named_collection(collection: Path | None) -> Path:
    """Return the collection that was named, else the demonstration's, and say so."""
    if collection is not None:
        return collection
    output.note("no --collection is named: these are the demonstration's sonorities, all invented")
    return shipped_path(COLLECTION)


def usual_collection() -> Path | None:
    """Return the collection that the environment names, for commands whose files may name one."""
    named = os.environ.get(_COLLECTION_VARIABLE)
    return Path(named) if named else None


def no_collection() -> RequestError:
    """Return what to raise where sonorities would be written and nobody said from where."""
    return RequestError(
        "collection.none",
        "no collection is named",
        hint=f"Name it: --collection FILE; or for all commands in {_COLLECTION_VARIABLE}.",
    )

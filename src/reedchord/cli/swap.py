"""`reedchord swap`: one sonority for another in a score."""

from __future__ import annotations

from typing import Annotated

import typer

from reedchord.cli import output
from reedchord.cli.options import (
    BritishOption,
    CollectionOption,
    DiffOption,
    DryRunOption,
    InPlaceOption,
    PitchNamesOption,
    ScoreArgument,
    ScoreOutputOption,
    speak,
)
from reedchord.cli.target import chosen_target
from reedchord.cli.written_score import refuse_no_output, show_or_write
from reedchord.errors import ReedchordError, Where

Option = typer.Option


def swap_command(
    score: ScoreArgument,
    old: Annotated[str, typer.Argument(help="Id of the sonority that goes, or its label, as M1.")],
    new: Annotated[str, typer.Argument(help="Id of the sonority that takes its place.")],
    collection: CollectionOption,
    part: Annotated[str | None, Option("--part", "-p", help="Only in this part.")] = None,
    bar: Annotated[str | None, Option("--bar", "-b", help="Only in this bar.")] = None,
    label: Annotated[str | None, Option(help="Only where this label stands.")] = None,
    carry: Annotated[
        bool, Option("--carry", help="Carry a sonority of another saxophone.")
    ] = False,
    out: ScoreOutputOption = None,
    in_place: InPlaceOption = False,
    diff: DiffOption = False,
    dry_run: DryRunOption = False,
    british: BritishOption = False,
    pitch_names: PitchNamesOption = "english",
) -> None:
    """Put one sonority where another stands, and say what changes.

    Manner, chosen tones and emphasis stay where the new sonority has such tones. Swapping
    back at the same places gives the same bytes again. A chord that was edited since stays
    and is told. With --diff or --dry-run nothing is written, and the status is 1.
    """
    from reedchord.collection_cache import cached_collection
    from reedchord.placement.swap import SwapPlaces, swap
    from reedchord.placement.swap_report import swap_report
    from reedchord.score_files import read_score_file

    speak(british=british, pitch_names=pitch_names)
    writes = not (diff or dry_run)
    target = chosen_target(score, out, in_place=in_place, others=(collection,))
    refuse_no_output(target, writes=writes)
    sonority = cached_collection(collection)[new]
    file = read_score_file(score)
    try:
        swapped = swap(file.data, old, sonority, SwapPlaces(part, bar, label), carry=carry)
    except ReedchordError as error:
        raise error.at(Where(path=str(score))) from None
    for sentence in (*file.notes, *swapped.placed.warnings, *swapped.left):
        output.note(sentence)
    for sentence in swap_report(swapped):
        output.say(sentence)
    show_or_write(swapped.placed, file, score, target if writes else None, diff=diff)

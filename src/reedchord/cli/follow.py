"""`reedchord follow`: a placed score follows the trials of a set-up."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from reedchord.cli import output
from reedchord.cli.options import (
    BritishOption,
    DiffOption,
    DryRunOption,
    InPlaceOption,
    OfferingCollection,
    PitchNamesOption,
    ScoreArgument,
    ScoreOutputOption,
    speak,
)
from reedchord.cli.set_up_options import LogOption, SetUpOption, named_trials
from reedchord.cli.target import chosen_target
from reedchord.cli.written_score import refuse_no_output, show_or_write
from reedchord.errors import ReedchordError, RequestError, Where

if TYPE_CHECKING:
    from reedchord.collection import Collection
    from reedchord.placement.follow import Followed
    from reedchord.trials.trials import Trials

Option = typer.Option


def follow_command(
    score: ScoreArgument,
    set_up: SetUpOption = None,
    log: LogOption = None,
    collection: OfferingCollection = None,
    more_than: Annotated[
        float, Option(min=0, help="Renew cents where a tone lies further off.")
    ] = 10,
    swap: Annotated[
        list[str] | None, Option(help="Swap what does not speak: M3=alto-lantern; repeated.")
    ] = None,
    apply_swaps: Annotated[
        bool, Option("--apply-swaps", help="Swap everything that does not speak for the best.")
    ] = False,
    history: Annotated[
        bool, Option("--history", help="Only print what trials changed before.")
    ] = False,
    out: ScoreOutputOption = None,
    in_place: InPlaceOption = False,
    diff: DiffOption = False,
    dry_run: DryRunOption = False,
    british: BritishOption = False,
    pitch_names: PitchNamesOption = "english",
) -> None:
    """Let a score follow trials: cents, records, swaps.

    Cents and records are renewed, swaps offered, and the history is kept. Nothing is swapped
    unless you say so, by --swap or --apply-swaps. With --diff or --dry-run nothing is written,
    and the status is 1 where something would change.
    """
    from reedchord.collection_cache import cached_collection
    from reedchord.placement.follow import chosen_swaps, follow, followed
    from reedchord.placement.follow_report import follow_report
    from reedchord.placement.swap_report import swap_report
    from reedchord.score_files import read_score_file

    speak(british=british, pitch_names=pitch_names)
    if history:
        _tell_history(score)
        return
    writes = not (diff or dry_run)
    trials = named_trials(set_up, log)
    if trials is None:
        raise RequestError("follow.set-up", "whose trials?", hint="Name a set-up: --set-up FILE.")
    target = chosen_target(score, out, in_place=in_place, others=(collection, set_up, log))
    refuse_no_output(target, writes=writes)
    file, whole = read_score_file(score), cached_collection(collection) if collection else None
    try:
        found = followed(file.data, trials, whole, over_cents=more_than)
        swaps = chosen_swaps(found, swap or [], whole, trials, best=apply_swaps)
        done = follow(file.data, found, swaps)
    except ReedchordError as error:
        raise error.at(Where(path=str(score))) from None
    for sentence in (*follow_report(found, swaps), *swap_report(done)):
        output.say(sentence)
    _tell_what_else_was_tried(trials, found, whole)
    for sentence in (*file.notes, *done.placed.warnings, *done.left):
        output.note(sentence)
    show_or_write(done.placed, file, score, target if writes else None, diff=diff)


def _tell_what_else_was_tried(
    trials: Trials, found: Sequence[Followed], whole: Collection | None
) -> None:
    """Say where nothing of the score was tried, and note what nobody here knows."""
    if not found:
        output.say(f"{trials.set_up.id} has tried none of the sonorities of this score")
    if whole is not None:
        known = (*whole.sonorities, *(one.tried.documented.id for one in found))
        for sentence in trials.unknown(known):
            output.note(sentence)


def _tell_history(score: Path) -> None:
    from reedchord.placement.follow import history_lines
    from reedchord.score_files import read_score_file

    try:
        lines = history_lines(read_score_file(score).data)
    except ReedchordError as error:
        raise error.at(Where(path=str(score))) from None
    output.result("".join(f"{line}\n" for line in lines or ["nothing was changed by trials"]))

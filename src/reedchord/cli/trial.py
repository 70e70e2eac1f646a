"""`reedchord trial`: what a set-up got from a sonority, into its log."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any

import typer

from reedchord.cli import output
from reedchord.cli.options import (
    BritishOption,
    OptionalCollection,
    PitchNamesOption,
    named_collection,
    speak,
    today,
)
from reedchord.cli.trial_entry import asked_trials
from reedchord.cli.written_score import EXIT_WOULD_CHANGE
from reedchord.errors import ReedchordError, RequestError, Where, did_you_mean

Option = typer.Option


def trial_command(
    set_up: Annotated[Path, Option("--set-up", help="File of the set-up.")],
    sonority: Annotated[
        str | None, typer.Argument(help="Id of a sonority; of a score also its label, M2.")
    ] = None,
    log: Annotated[
        Path | None, Option(help="Log to add to; else SETUP-trials.yaml beside the set-up.")
    ] = None,
    collection: OptionalCollection = None,
    outcome: Annotated[
        str | None, Option(help="spoke, after a try, did not speak; else you are asked.")
    ] = None,
    attack: Annotated[str | None, Option(help="Way of attack: single tongue, breath.")] = None,
    at: Annotated[str | None, Option(help="Dynamics at which it was tried: p-f.")] = None,
    tone: Annotated[
        list[str] | None, Option(help="Tones: '1-2: p-f', '3: none', '2 = D5-30 ±2'; repeated.")
    ] = None,
    fastest: Annotated[
        list[str] | None, Option(help="Speed managed: 'single tongue: 16th at quarter = 72'.")
    ] = None,
    remarks: Annotated[str | None, Option(help="Anything else.")] = None,
    take: Annotated[list[str] | None, Option(help="File name of a recording; repeated.")] = None,
    date: Annotated[str | None, Option(help="Day of the trial, 2031-11-25; else today.")] = None,
    score: Annotated[
        Path | None, Option(help="Ask about each sonority of this score, or the named one.")
    ] = None,
    british: BritishOption = False,
    pitch_names: PitchNamesOption = "english",
    dry_run: Annotated[bool, Option("--dry-run", help="Print the log, write nothing.")] = False,
) -> None:
    """Note in a log what a set-up got from a sonority.

    Comments and order of the log stay. What no option says is asked.
    """
    from reedchord.exchange.typed_trial import typed_limits, typed_tones
    from reedchord.trials.set_ups import read_set_up
    from reedchord.trials.trials import default_log, read_log

    speak(british=british, pitch_names=pitch_names)
    typed: dict[str, Any] = {
        "date": today() if date is None else date,
        "outcome": outcome,
        "attack": attack,
        "dynamics": at,
        "tones": [read for one in tone or () for read in typed_tones(one)],
        "limits": [limit for one in fastest or () for limit in typed_limits(one)],
        "remarks": remarks or None,
        "takes": take,
    }
    data = {name: said for name, said in typed.items() if said not in (None, [])}
    owner, path = read_set_up(set_up), log or default_log(set_up)
    wanted = _of_score(score, sonority) if score else [("", _sonority(sonority, collection))]
    if sonority is not None and outcome is not None:
        trials = [_said(data, wanted[0][1], owner)]
    else:
        if path.exists() and path.read_bytes().strip():
            read_log(path)  # mistakes in it are told before anybody is asked
        trials = asked_trials(wanted, owner, data)
    _write(trials, path, owner.id, dry_run=dry_run)


def _said(data: dict[str, Any], sonority: Any, owner: Any) -> Any:
    from reedchord.exchange.typed_trial import checked_trial
    from reedchord.trials.doubts import trial_doubts

    trial = checked_trial({**data, "sonority": sonority.id}, sonority, owner)
    for sentence in trial_doubts(sonority, trial):
        output.note(sentence)
    return trial


def _sonority(name: str | None, collection: Path | None) -> Any:
    from reedchord.collection_cache import cached_collection

    if name is None:
        raise RequestError(
            "trial.what", "say what was tried", hint="Name a sonority, or --score SCORE."
        )
    return cached_collection(named_collection(collection))[name]


def _of_score(score: Path, name: str | None) -> list[tuple[str, Any]]:
    """Return the sonorities of a score by label, or the one with this label or id."""
    from reedchord.musicxml.document import read_score
    from reedchord.placement.standing import standing_placements
    from reedchord.score_files import read_score_file

    data = read_score_file(score).data
    try:
        placed = standing_placements(read_score(data))
    except ReedchordError as error:
        raise error.at(Where(path=str(score))) from None
    every = {one.row.label: one.sonority for one in placed}
    found = [(label, one) for label, one in every.items() if name in (None, label, one.id)]
    if not found:
        names = [*every, *(one.id for one in every.values())]
        raise RequestError(
            "trial.not-in-score",
            f"no sonority {name!r} stands in the score",
            hint=did_you_mean(str(name), names),
            where=Where(path=str(score)),
        )
    return found


def _write(trials: list[Any], path: Path, set_up: str, *, dry_run: bool) -> None:
    from reedchord.exchange.logged import log_with
    from reedchord.score_files import in_turn, write_atomically
    from reedchord.wording import CAUTIONS

    if not trials:
        output.say("nothing was noted")
        return
    if dry_run:
        output.result(log_with(path, trials, set_up))
        output.say("nothing was written")
    else:
        with in_turn(path):
            write_atomically(path, log_with(path, trials, set_up).encode("utf-8"))
        for trial in trials:
            output.say(f"noted in {path}: {trial.sonority}, {trial.date}, {trial.outcome}")
    for sentence in CAUTIONS:
        output.note(sentence)
    if dry_run:
        raise typer.Exit(EXIT_WOULD_CHANGE)

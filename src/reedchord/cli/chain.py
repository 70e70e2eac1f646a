"""`reedchord chain`: a playable sequence for a row of wishes."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from reedchord.cli import chain_options as on
from reedchord.cli import output
from reedchord.cli.options import (
    BritishOption,
    JsonOption,
    PitchNamesOption,
    named_collection,
    no_collection,
    speak,
    usual_collection,
)
from reedchord.cli.set_up_options import LogOption, SetUpOption, as_tried_collection
from reedchord.errors import RequestError
from reedchord.numbers_as_text import counted

if TYPE_CHECKING:
    from reedchord.chains.chain_wishes import Wishes
    from reedchord.choosing.chain import Chain

NOTHING_FOUND = 1


def chain_command(
    wishes: on.WishesArgument = None,
    collection: on.CollectionOption = None,
    concert: on.ConcertOption = None,
    each: on.EachOption = None,
    tempo: on.TempoOption = None,
    at: on.AtOption = None,
    saxophone: on.SaxophoneOption = None,
    alternatives: on.AlternativesOption = 2,
    candidates: on.CandidatesOption = None,
    choose: on.ChooseOption = 1,
    out: on.OutputOption = None,
    set_up: SetUpOption = None,
    log: LogOption = None,
    british: BritishOption = False,
    pitch_names: PitchNamesOption = "english",
    as_json: JsonOption = False,
) -> None:
    """Choose the best playable sequence for a row of wishes.

    The next best ones are shown too; -o writes one as a plan.
    """
    from reedchord.choosing.chain import chain
    from reedchord.choosing.chain_reasons import NoChainError
    from reedchord.choosing.chain_report import chain_data, chain_text
    from reedchord.choosing.tried_notes import chain_with_trials, without_silent
    from reedchord.collection_cache import cached_collection

    speak(british=british, pitch_names=pitch_names)
    row = _wishes(wishes, concert, each, tempo, at, saxophone)
    folder = collection or row.collection or usual_collection()
    if folder is None and out is not None:
        raise no_collection()
    folder = named_collection(folder)
    count, whole, request = max(alternatives + 1, choose), cached_collection(folder), row.request
    mine = as_tried_collection(whole, set_up, log)
    if mine:
        whole, request = mine.collection, without_silent(request, mine)
    try:
        found = chain(whole, request, count=count, width=candidates)
    except NoChainError as error:
        output.error(str(error))
        raise typer.Exit(NOTHING_FOUND) from None
    if choose > len(found.best):
        many = len(found.best)
        there = f"there {'is' if many == 1 else 'are'} {counted(many, 'sequence')}"
        raise RequestError("chain.choose", f"{there}, not {choose}")
    if mine:
        found = chain_with_trials(found, mine.tried)
    if out is not None:
        _write_plan(found, choose, out, folder, wishes)
    if as_json:
        output.data(chain_data(found))
    else:
        output.result(chain_text(found))


def _wishes(
    file: Path | None,
    concert: str | None,
    each: str | None,
    tempo: str | None,
    at: str | None,
    saxophones: list[str] | None,
) -> Wishes:
    """Return the wishes of the file, or those that the options describe."""
    from reedchord.chains.chain_wishes import (
        DEFAULT_LENGTH,
        DEFAULT_TEMPO,
        read_wishes,
        wishes_from_text,
    )

    typed = [
        name
        for name, said in (
            ("--concert", concert),
            ("--each", each),
            ("--tempo", tempo),
            ("--at", at),
            ("--saxophone", saxophones),
        )
        if said
    ]
    if file is not None:
        if typed:
            raise RequestError(
                "chain.file-and-more", f"the file holds the wishes: leave out {', '.join(typed)}"
            )
        return read_wishes(file)
    if concert is None:
        raise RequestError(
            "chain.no-wishes",
            "no wishes are named",
            hint="Give a file of wishes, or --concert 'F4 C5; G4 D5' --each half --tempo 60.",
        )
    if each is None:
        output.note(f"no --each says how long a harmony lasts: {DEFAULT_LENGTH} is assumed")
    if tempo is None:
        output.note(f"no --tempo is named: quarter = {DEFAULT_TEMPO} is assumed")
    return wishes_from_text(concert, lasts=each, tempo=tempo, at=at, saxophones=saxophones or ())


def _write_plan(found: Chain, choose: int, out: Path, folder: Path, wishes: Path | None) -> None:
    from reedchord.chains.chain_plan import chain_plan
    from reedchord.cli.target import refuse_overwriting, refuse_score_name
    from reedchord.score_files import write_atomically

    refuse_overwriting(out, [folder, wishes])
    refuse_score_name(out, "a plan", "plan.yaml")
    collection = Path(os.path.relpath(folder, out.parent)).as_posix()
    text = chain_plan(found.best[choose - 1], collection)
    write_atomically(out, text.encode("utf-8"))
    output.say(f"wrote {out}")

"""`reedchord match`: the sonorities behind chords that were typed by hand."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from reedchord.cli import output
from reedchord.cli.options import (
    BritishOption,
    DiffOption,
    DryRunOption,
    InPlaceOption,
    JsonOption,
    OptionalCollection,
    PartsOption,
    PitchNamesOption,
    ScoreOutputOption,
    named_collection,
    speak,
)
from reedchord.cli.target import chosen_target
from reedchord.cli.written_score import refuse_no_output, show_or_write

if TYPE_CHECKING:
    from reedchord.collection import Collection
    from reedchord.matching.match_score import MatchedScore
    from reedchord.musicxml.score_file import ScoreFile

Option = typer.Option
NOTHING_FOUND = 1


def match_command(
    score: Annotated[Path, typer.Argument(help="Score with chords in it; - reads it.")],
    collection: OptionalCollection = None,
    part: PartsOption = None,
    within: Annotated[
        str, Option(help="Furthest that a tone lies from its note.", metavar="CENTS")
    ] = "50",
    choose: Annotated[
        list[str] | None,
        Option("--choose", help="Your choice: 'bar 5 beat 1 = ID'; may be repeated."),
    ] = None,
    saxophone: Annotated[
        str | None, Option(help="The part's saxophone, where the score does not tell.")
    ] = None,
    apply: Annotated[
        bool, Option("--apply", help="Mark the chords in the score; their notes stay.")
    ] = False,
    out: ScoreOutputOption = None,
    in_place: InPlaceOption = False,
    diff: DiffOption = False,
    dry_run: DryRunOption = False,
    british: BritishOption = False,
    pitch_names: PitchNamesOption = "english",
    as_json: JsonOption = False,
) -> None:
    """Tell which sonorities stand behind chords, and mark them.

    With --apply the chords whose sonority is clear get label, fingering, source and record;
    their notes stay as the composer wrote them, and strip takes the marks off again. All
    others are listed as questions for the player. The status is 1 where nothing fits.
    """
    speak(british=british, pitch_names=pitch_names)
    writes = apply and not (diff or dry_run)
    target = chosen_target(score, out, in_place=in_place, others=(collection,))
    _refuse_idle(target, diff=diff, dry_run=dry_run, apply=apply)
    _refuse_invented(collection, apply=apply)
    refuse_no_output(target, writes=writes)
    chosen = named_collection(collection)
    file, known, matched = _read(score, chosen, part or [], within, choose or [], saxophone)
    for sentence in (*file.notes, *matched.notes):
        output.note(sentence)
    _tell(matched, as_json=as_json, on_stdout=not (apply and (diff or str(target) == "-")))
    if apply and matched.taken:
        _apply(matched, known, file, score, target if writes else None, diff=diff)
    elif apply:
        output.say("nothing was written: no chord has a sonority that is clear without asking")
        raise typer.Exit(NOTHING_FOUND)
    if not any(one.matches or one.taken for one in matched.chords):
        raise typer.Exit(NOTHING_FOUND)


def _refuse_idle(target: Path | None, *, diff: bool, dry_run: bool, apply: bool) -> None:
    from reedchord.errors import RequestError

    if not apply and (target is not None or diff or dry_run):
        raise RequestError(
            "match.no-apply",
            "an output is named, but nothing is to be written",
            hint="Say --apply to mark the chords in the score.",
        )


def _refuse_invented(collection: Path | None, *, apply: bool) -> None:
    from reedchord.errors import RequestError

    if apply and collection is None:
        raise RequestError(
            "match.no-collection",
            "no collection is named, and the demonstration's sonorities are invented: a score "
            "is not marked with them",
            hint="Name yours: --collection FILE.",
        )


def _read(
    path: Path,
    collection: Path,
    parts: list[str],
    within: str,
    choices: list[str],
    saxophone: str | None,
) -> tuple[ScoreFile, Collection, MatchedScore]:
    from reedchord import saxophones
    from reedchord.choosing.search_text import parse_cents
    from reedchord.collection_cache import cached_collection
    from reedchord.errors import ReedchordError, Where, said_by
    from reedchord.matching.match_score import match_score, parse_choice
    from reedchord.score_files import read_score_file

    known = cached_collection(collection)
    with said_by("--within"):
        within_cents = parse_cents(within)
    with said_by("--saxophone"):
        member = saxophones.saxophone(saxophone) if saxophone else None
    file = read_score_file(path)
    try:
        matched = match_score(
            file.data,
            known,
            parts=parts,
            within_cents=within_cents,
            saxophone=member,
            choices=[parse_choice(text) for text in choices],
        )
    except ReedchordError as error:
        raise error.at(Where(path=str(path))) from None
    return file, known, matched


def _tell(matched: MatchedScore, *, as_json: bool, on_stdout: bool) -> None:
    from reedchord.matching.match_report import matched_data, matched_text

    text = output.data_text(matched_data(matched)) if as_json else matched_text(matched)
    if on_stdout:
        output.result(text)
    else:
        output.say(text.rstrip("\n"))


def _apply(
    matched: MatchedScore,
    collection: Collection,
    file: ScoreFile,
    score: Path,
    target: Path | None,
    *,
    diff: bool,
) -> None:
    from reedchord.errors import ReedchordError, Where
    from reedchord.matching.match_score import apply

    try:
        placed = apply(matched, collection)
    except ReedchordError as error:
        raise error.at(Where(path=str(score))) from None
    for sentence in placed.warnings:
        output.note(sentence)
    marked, left = len(matched.taken), len(matched.questions)
    output.say(f"chords marked: {marked}; not marked: {left}")
    show_or_write(placed, file, score, target, diff=diff)

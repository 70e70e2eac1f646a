"""`reedchord explore`: fingerings near a known one, to be tried."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from reedchord.cli import explore_options as on
from reedchord.cli import output
from reedchord.cli.options import (
    BritishOption,
    JsonOption,
    PaperOption,
    PitchNamesOption,
    speak,
    today,
)
from reedchord.cli.set_up_options import LogOption
from reedchord.errors import RequestError
from reedchord.file_endings import refused_ending
from reedchord.numbers_as_text import counted

if TYPE_CHECKING:
    from reedchord.collection import Collection
    from reedchord.exploring.explore import Exploration

_ENDINGS = (".html", ".pdf", ".yaml", ".yml")


def explore_command(
    start: on.FromOption = None,
    saxophone: on.SaxophoneOption = None,
    changes: on.ChangesOption = 2,
    most: on.MostOption = 24,
    collection: on.CollectionOption = None,
    out: on.OutputOption = None,
    filled: on.FilledOption = None,
    set_up: on.SetUpOption = None,
    log: LogOption = None,
    paper: PaperOption = "a4",
    british: BritishOption = False,
    pitch_names: PitchNamesOption = "english",
    as_json: JsonOption = False,
) -> None:
    """Find new fingerings near a known one, the easiest first.

    They are one or two changes away. -o writes them as a sheet, or as a list to be filled in,
    which --filled puts into a collection.
    """
    from reedchord.collection_cache import cached_collection
    from reedchord.exploring.explore import explore
    from reedchord.exploring.explore_report import exploration_data, exploration_text
    from reedchord.exploring.explore_start import starting_from
    from reedchord.wording import CAUTIONS

    speak(british=british, pitch_names=pitch_names)
    if filled is not None:
        _put_into_collection(filled, set_up, log, out)
        return
    if start is None:
        raise RequestError("explore.from", "from what?", hint="Say it: --from G4.")
    if out is not None:
        _form(out)
    known = cached_collection(collection) if collection else None
    begin = starting_from(start, saxophone, known)
    for remark in begin.remarks():
        output.note(remark)
    found = explore(
        begin.fingering,
        begin.saxophone,
        start=begin.called,
        changes=changes,
        most=most,
        collection=known or (),
    )
    if out is not None:
        _write(found, out, known, paper, [collection])
    if as_json:
        output.data(exploration_data(found))
    elif out is None:
        output.result(exploration_text(found))
    for sentence in CAUTIONS:
        output.note(sentence)


def _write(
    found: Exploration,
    out: Path,
    known: Collection | None,
    paper: str,
    inputs: list[Path | None],
) -> None:
    from reedchord.cli.target import refuse_overwriting
    from reedchord.drawing.paper import paper_named
    from reedchord.exchange.filled import to_try_text
    from reedchord.pages.explore_sheet import sheet_html, sheet_pdf, try_sheet
    from reedchord.score_files import write_atomically

    refuse_overwriting(out, inputs)
    kind = _form(out)
    if kind == ".pdf":
        data = sheet_pdf(try_sheet(found), paper_named(paper)).pdf
    elif kind == ".html":
        data = sheet_html(try_sheet(found)).encode("utf-8")
    else:
        data = to_try_text(found, known.sonorities if known else ()).encode("utf-8")
    write_atomically(out, data)
    output.say(f"wrote {out}: {counted(len(found.to_try), 'fingering')} to try")


def _form(out: Path) -> str:
    """Return the ending of what is to be written; a list that may be filled in is not lost."""
    kind = out.suffix.casefold()
    if kind not in _ENDINGS:
        raise refused_ending(out, _ENDINGS, "what is to be tried")
    if kind in (".yaml", ".yml") and out.exists():
        message = f"{out} is there already, and may be filled in"
        raise RequestError("explore.exists", message, hint="Name another file.")
    return kind


def _put_into_collection(
    filled: Path, set_up: Path | None, log: Path | None, out: Path | None
) -> None:
    """Write what was filled in as records, and as trials into the log of the set-up."""
    from reedchord.cli.collection_files import (
        refuse_other_name,
        tell_what_is_unusual,
        write_collection,
    )
    from reedchord.collection_reading import read_collection
    from reedchord.exchange.filled import (
        collection_with_filled,
        entries_there,
        filled_trials,
        left_out,
        read_to_try,
    )
    from reedchord.exchange.logged import log_with
    from reedchord.score_files import in_turn, write_atomically
    from reedchord.trials.set_ups import read_set_up
    from reedchord.trials.trials import default_log

    if set_up is None:
        raise RequestError(
            "explore.set-up", "with which set-up was it tried?", hint="Name it: --set-up FILE."
        )
    refuse_other_name(out)
    owner, listed = read_set_up(set_up), read_to_try(filled)
    if out is None:
        output.result(collection_with_filled(None, listed, owner)[0])
        return
    path = log or default_log(set_up)
    with in_turn(out), in_turn(path):
        there = entries_there(listed, read_collection(out)) if out.is_file() else frozenset()
        text, collection = collection_with_filled(out, listed, owner, there)
        trials = filled_trials(listed, today(), there)
        log_text = log_with(path, trials, owner.id)
        if trials:
            write_collection(text, collection, out, inputs=[filled, set_up, path])
            write_atomically(path, log_text.encode("utf-8"))
    for sentence in left_out(listed):
        output.note(sentence)
    for name in sorted(there):
        output.note(f"{name} stands in {out} already, and stays as it is there")
    tell_what_is_unusual(collection[one.sonority] for one in trials)
    names = ", ".join(one.sonority for one in trials)
    output.say(f"noted in {path}: {names}" if names else "nothing new is filled in")

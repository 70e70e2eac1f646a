"""`reedchord explore`: fingerings near a known one, to be tried."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from reedchord.cli import explore_options as on
from reedchord.cli import output
from reedchord.cli.explore_filled import put_into_collection
from reedchord.cli.options import (
    BritishOption,
    JsonOption,
    PaperOption,
    PitchNamesOption,
    speak,
)
from reedchord.cli.set_up_options import LogOption
from reedchord.errors import RequestError
from reedchord.file_endings import refused_ending
from reedchord.numbers_as_text import counted

if TYPE_CHECKING:
    from reedchord.collection import Collection
    from reedchord.exploring.explore import Exploration
    from reedchord.exploring.explore_start import Start
    from reedchord.trials.set_ups import SetUpFile

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
    from reedchord.trials.set_ups import read_set_up
    from reedchord.wording import CAUTIONS

    speak(british=british, pitch_names=pitch_names)
    if filled is not None:
        _refuse("--filled", {"--from": start, "--saxophone": saxophone, "--json": as_json})
        put_into_collection(filled, set_up, log, out)
        return
    _refuse("--from", {"--log": log})
    if start is None:
        raise RequestError("explore.from", "from what?", hint="Say it: --from G4.")
    if out is not None:
        _form(out)
    known = cached_collection(collection) if collection else None
    owner = read_set_up(set_up) if set_up else None
    begin = starting_from(start, _member(start, saxophone, owner, known), known)
    _refuse_other_saxophone(begin, owner)
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
        _write(found, out, known, owner, paper, [collection, set_up])
    if as_json:
        output.data(exploration_data(found))
    elif out is None:
        output.result(exploration_text(found))
    for sentence in CAUTIONS:
        output.note(sentence)


def _refuse(kept: str, options: Mapping[str, object]) -> None:
    given = [name for name, said in options.items() if said]
    if given:
        message = f"{' and '.join(given)} cannot be said together with {kept}"
        raise RequestError("explore.option", message, hint="Leave one of them out.")


def _member(
    start: str, saxophone: str | None, owner: SetUpFile | None, known: Collection | None
) -> str | None:
    """Return the saxophone that was named, else the set-up's; a sonority brings its own."""
    if saxophone is None and owner is not None and (known is None or start not in known):
        return owner.saxophone.name
    return saxophone


def _refuse_other_saxophone(begin: Start, owner: SetUpFile | None) -> None:
    if owner is not None and owner.saxophone != begin.saxophone:
        raise RequestError(
            "explore.other-saxophone",
            f"{begin.called} is for {begin.saxophone.name}, {owner.id} is a set-up of "
            f"{owner.saxophone.name}",
        )


def _write(
    found: Exploration,
    out: Path,
    known: Collection | None,
    owner: SetUpFile | None,
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
        data = sheet_pdf(try_sheet(found, owner), paper_named(paper)).pdf
    elif kind == ".html":
        data = sheet_html(try_sheet(found, owner)).encode("utf-8")
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

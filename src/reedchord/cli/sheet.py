"""`reedchord sheet`: the page over which composer and player meet."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from reedchord.cli import output
from reedchord.cli.options import (
    BritishOption,
    PaperOption,
    PitchNamesOption,
    PlanCollectionOption,
    PlanOption,
    ScoreArgument,
    speak,
)
from reedchord.cli.set_up_options import LogOption, SetUpOption, named_trials


def sheet_command(
    score: ScoreArgument,
    out: Annotated[Path, typer.Option("--output", "-o", help="File.html or .pdf.")],
    plan: PlanOption = None,
    collection: PlanCollectionOption = None,
    british: BritishOption = False,
    pitch_names: PitchNamesOption = "english",
    paper: PaperOption = "a4",
    set_up: SetUpOption = None,
    log: LogOption = None,
) -> None:
    """Write the sheet over which composer and player sit.

    Music, fingering, tones and alternatives of each sonority, and room to note. With a set-up,
    what was tried goes before what is documented, and both are told.
    """
    from reedchord.cli.planned_score import planned_score
    from reedchord.drawing.paper import paper_named
    from reedchord.errors import ReedchordError, Where
    from reedchord.pages.sheet import meeting_sheet
    from reedchord.pages.sheet_files import sheet_bytes, sheet_format
    from reedchord.score_files import write_atomically

    speak(british=british, pitch_names=pitch_names, explained=True)
    kind, size = sheet_format(out), paper_named(paper)
    trials = named_trials(set_up, log)
    planned = planned_score(score, plan, collection)
    try:
        made = meeting_sheet(planned.data, planned.collection, trials=trials)
    except ReedchordError as error:
        raise error.at(Where(path=str(score))) from None
    written = sheet_bytes(made, kind, size)
    write_atomically(out, written.data)
    if written.not_shown:
        output.note(f"no font here shows {written.not_shown!r}")
    if planned.collection is None:
        output.note("no collection was named, so the sheet offers no alternatives")
    elif trials is not None:
        known = (*planned.collection.sonorities, *(entry.id for entry in made.sonorities))
        for sentence in trials.unknown(known):
            output.note(sentence)
    output.say(f"wrote {out}: {', '.join(entry.label for entry in made.sonorities)}")

"""`reedchord collection new`: a record asked for step by step on a terminal."""

from __future__ import annotations

from contextlib import nullcontext
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from reedchord.cli import output
from reedchord.cli.asking import INTERRUPTED, STOP, STOPPED, Stopped, ask, confirm, is_terminal
from reedchord.cli.options import (
    BritishOption,
    PitchNamesOption,
    speak,
)
from reedchord.errors import RequestError

if TYPE_CHECKING:
    from reedchord.exchange.entry import Draft, Question


def new_command(
    out: Annotated[
        Path | None,
        typer.Option("--output", "-o", help="Collection to add to, old or new; else printed."),
    ] = None,
    british: BritishOption = False,
    pitch_names: PitchNamesOption = "english",
) -> None:
    """Enter a sonority step by step.

    Each answer is checked, and nothing is half-written.
    """
    from reedchord.cli.collection_files import refuse_other_name, write_collection
    from reedchord.collection_reading import read_collection
    from reedchord.exchange.added import collection_with
    from reedchord.exchange.entry import QUESTIONS, Draft, finished
    from reedchord.score_files import in_turn

    speak(british=british, pitch_names=pitch_names)
    if not is_terminal():
        raise RequestError(
            "new.no-terminal",
            "this command asks questions, and there is no terminal to answer on",
            hint="Write the record into a file, or use 'reedchord collection import'.",
        )
    refuse_other_name(out)
    known = read_collection(out) if out is not None and out.exists() else None
    draft = Draft(known.sources if known else {}, frozenset(known.sonorities if known else ()))
    output.say(f"Empty answers pass, ? shows an example; {STOP} or Ctrl-C ends, nothing written.")
    try:
        for question in QUESTIONS:
            if question.when(draft):
                _ask(question, draft)
        sonority = finished(draft)
        where = f"to {out}" if out else "out"
        confirm(f"Write {sonority.id} {where}?")
    except (Stopped, KeyboardInterrupt) as end:
        output.say("\nstopped; nothing was written")
        raise typer.Exit(INTERRUPTED if isinstance(end, KeyboardInterrupt) else STOPPED) from None
    # The file is read again: somebody may have changed it meanwhile.
    with in_turn(out) if out else nullcontext():
        text, collection = collection_with(out, draft.record(), draft.source)
        write_collection(text, collection, out, inputs=[])


def _ask(question: Question, draft: Draft) -> None:
    ask(
        question.words,
        question.example,
        lambda text: question.answer(draft, text),
        needed=question.needed,
        default=question.default(draft),
    )

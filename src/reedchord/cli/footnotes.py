"""`reedchord footnotes`: fingerings and sources for the printed part, from the score alone."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer

from reedchord.cli import output
from reedchord.cli.options import BritishOption, PaperOption, PitchNamesOption, ScoreArgument, speak
from reedchord.cli.set_up_options import LogOption, SetUpOption, named_trials
from reedchord.cli.target import refuse_overwriting, refuse_score_name
from reedchord.errors import ReedchordError, RequestError, Where
from reedchord.numbers_as_text import counted


def footnotes_command(
    score: ScoreArgument,
    form: Annotated[
        str | None,
        typer.Option(
            "--format", "-f", help="text, markdown, html, pdf, svg, or block for a last page."
        ),
    ] = None,
    out: Annotated[
        Path | None,
        typer.Option(
            "--output", "-o", help="File to write, its ending tells the format; else printed."
        ),
    ] = None,
    british: BritishOption = False,
    pitch_names: PitchNamesOption = "english",
    paper: PaperOption = "a4",
    width: Annotated[
        int | None, typer.Option(min=1, help="Characters in a line, for text and block.")
    ] = None,
    width_mm: Annotated[
        float | None, typer.Option(min=1, help="Millimetres, for svg; else 170.")
    ] = None,
    set_up: SetUpOption = None,
    log: LogOption = None,
) -> None:
    """Write the numbered fingering footnotes of a score.

    They tell only what appears in it, in its order.
    """
    from reedchord.drawing.paper import paper_named
    from reedchord.pages.footnote_files import FootnoteOptions, footnote_file, footnote_format
    from reedchord.pages.footnotes import footnotes_of
    from reedchord.score_files import STANDARD_STREAM, read_score_file

    kind = footnote_format(form, out)
    if out is not None:
        refuse_overwriting(out, [score])
        refuse_score_name(out, "a text of footnotes", "footnotes.txt")
    options = FootnoteOptions(paper_named(paper), width, width_mm)
    speak(british=british, pitch_names=pitch_names, explained=True)
    try:
        data, trials = read_score_file(score).data, named_trials(set_up, log)
        notes = footnotes_of(data, trials=trials)
    except ReedchordError as error:
        raise error.at(Where(path=str(score))) from None
    file = footnote_file(notes, kind, options)
    _hand_out(file.data, out, is_for_files=kind in ("pdf", "svg"))
    if out is not None and str(out) != STANDARD_STREAM:
        output.say(f"wrote {out}: {counted(len(notes), 'footnote')}")
    for remark in file.remarks:
        output.note(remark)


def _hand_out(data: bytes, out: Path | None, *, is_for_files: bool) -> None:
    from reedchord.score_files import write_atomically

    if out is not None:
        write_atomically(out, data)
    elif not is_for_files:
        output.result(data.decode("utf-8"))
    elif sys.stdout.isatty():
        raise RequestError(
            "footnotes.terminal",
            "this format is for a file, not for the terminal",
            hint="Name the file: -o footnotes.pdf.",
        )
    else:
        write_atomically(Path("-"), data)

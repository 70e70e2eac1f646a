"""`reedchord footnotes`: fingerings and sources for the printed part, from the score alone."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from reedchord.cli import output
from reedchord.cli.options import BritishOption


def footnotes_command(
    score: Annotated[Path, typer.Argument(help="Score with sonorities in it; - reads it.")],
    form: Annotated[str, typer.Option("--format", "-f", help="text, markdown or html.")] = "text",
    out: Annotated[
        Path | None, typer.Option("--output", "-o", help="File to write; else it is printed.")
    ] = None,
    british: BritishOption = False,
) -> None:
    """Write the numbered fingering footnotes of a score: only what appears, in its order."""
    from reedchord.errors import RequestError, Where, did_you_mean
    from reedchord.footnotes import FootnoteFormat, footnotes_of, written_as
    from reedchord.score_files import read_score_file, write_atomically

    if form not in list(FootnoteFormat):
        raise RequestError(
            "footnotes.format",
            f"{form!r} is no format for footnotes",
            hint=did_you_mean(form, FootnoteFormat),
        )
    try:
        notes = footnotes_of(read_score_file(score).data, british=british)
    except RequestError as error:
        raise error.at(Where(path=str(score))) from None
    text = written_as(notes, FootnoteFormat(form))
    if out is None:
        output.result(text)
        return
    write_atomically(out, text.encode("utf-8"))
    output.say(f"wrote {out}: {len(notes)} footnotes")

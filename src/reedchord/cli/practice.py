"""`reedchord practice`: a sonority tone by tone, then together, to read and to hear."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from reedchord.cli import output
from reedchord.cli.options import (
    A4Option,
    OptionalCollection,
    SonorityArgument,
    named_collection,
)
from reedchord.cli.set_up_options import LogOption, SetUpOption, record_as_tried
from reedchord.pitch import A4_HZ

Option = typer.Option


def practice_command(
    sonority: SonorityArgument,
    out: Annotated[
        Path, Option("--output", "-o", help="Folder, or file.musicxml, .wav, .flac or .mid.")
    ],
    collection: OptionalCollection = None,
    at: Annotated[
        str | None, Option("--at", help="Dynamic mark; else one at which most tones sound.")
    ] = None,
    a4: A4Option = A4_HZ,
    set_up: SetUpOption = None,
    log: LogOption = None,
) -> None:
    """Write a line to practise a sonority from, and its sound.

    The tones stand one by one, built up, and together. The record's advice and the usual
    cautions stand in the score too.
    """
    from reedchord.cli.target import refuse_overwriting
    from reedchord.collection_cache import cached_collection
    from reedchord.dynamics import parse_dynamic
    from reedchord.errors import said_by
    from reedchord.score_files import write_atomically
    from reedchord.sounding.hearing import Reading
    from reedchord.sounding.practice import practice
    from reedchord.sounding.practice_files import practice_files, practice_paths

    whole = cached_collection(named_collection(collection))
    record = record_as_tried(sonority, whole, set_up, log)
    with said_by("--at"):
        dynamic = parse_dynamic(at) if at else None
    line = practice(record, dynamic)
    told = list(line.told)
    for path, data in practice_files(line, practice_paths(out, record.id), Reading(a4), told):
        refuse_overwriting(path, [collection])
        write_atomically(path, data)
        output.say(f"wrote {path}")
    for sentence in dict.fromkeys(told):
        output.note(sentence)
    output.result("\n".join(line.advice) + "\n")

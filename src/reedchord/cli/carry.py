"""`reedchord carry`: one sonority on other members of the family."""

from __future__ import annotations

from typing import Annotated

import typer

from reedchord.cli import output
from reedchord.cli.options import CollectionOption, SonorityArgument
from reedchord.errors import RequestError


def carry_command(
    sonority: SonorityArgument,
    collection: CollectionOption,
    to: Annotated[
        list[str] | None, typer.Option("--to", help="Member of the family; may be repeated.")
    ] = None,
    everywhere: Annotated[bool, typer.Option("--all", help="Every other member.")] = False,
) -> None:
    """Carry a sonority to other saxophones: same fingering, new concert pitches, and a guess."""
    from reedchord.carry import ONLY_A_TRIAL, carry_to, carry_to_all
    from reedchord.carry_text import carried_text
    from reedchord.collection import read_collection
    from reedchord.saxophones import saxophone

    record = read_collection(collection)[sonority]
    if bool(to) == everywhere:
        raise RequestError("carry.where-to", "say --to MEMBER or --all")
    members = [saxophone(name) for name in to or []]
    carried = carry_to_all(record) if everywhere else [carry_to(record, m) for m in members]
    output.result(carried_text(record, carried))
    output.note(f"evidence is carried: {ONLY_A_TRIAL}")

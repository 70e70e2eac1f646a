"""`reedchord carry`: one sonority on other members of the family."""

from __future__ import annotations

from typing import Annotated

import typer

from reedchord.cli import output
from reedchord.cli.options import OptionalCollection, SonorityArgument, named_collection
from reedchord.errors import RequestError


def carry_command(
    sonority: SonorityArgument,
    more: Annotated[list[str] | None, typer.Argument(help="More members, after --to.")] = None,
    collection: OptionalCollection = None,
    to: Annotated[
        list[str] | None, typer.Option("--to", help="Member of the family; more may follow.")
    ] = None,
    everywhere: Annotated[bool, typer.Option("--all", help="Every other member.")] = False,
) -> None:
    """Carry a sonority to other saxophones: same fingering, new concert pitches, and a guess."""
    from reedchord.carry import ONLY_A_TRIAL, carry_to, carry_to_all
    from reedchord.carry_text import carried_text
    from reedchord.collection_cache import cached_collection
    from reedchord.saxophones import saxophone

    record = cached_collection(named_collection(collection))[sonority]
    wanted = [*(to or []), *(more or [])]
    if bool(wanted) == everywhere:
        raise RequestError("carry.where-to", "say --to MEMBER or --all")
    members = [saxophone(name) for name in wanted]
    carried = carry_to_all(record) if everywhere else [carry_to(record, m) for m in members]
    output.result(carried_text(record, carried))
    output.note(f"evidence is carried: {ONLY_A_TRIAL}")

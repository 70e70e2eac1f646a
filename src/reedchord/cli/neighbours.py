"""`reedchord neighbours`: what connects easily to a sonority."""

from __future__ import annotations

from typing import Annotated

import typer

from reedchord.cli import output
from reedchord.cli.options import (
    JsonOption,
    OptionalCollection,
    SonorityArgument,
    named_collection,
)


def neighbours_command(
    sonority: SonorityArgument,
    collection: OptionalCollection = None,
    most: Annotated[
        int, typer.Option("--most", help="How many computed neighbours to show.", min=0)
    ] = 8,
    as_json: JsonOption = False,
) -> None:
    """Show which sonorities connect easily, and why.

    First what sources say, then what the fingers say.
    """
    from reedchord.choosing.neighbours import neighbours_of
    from reedchord.choosing.neighbours_report import neighbours_data, neighbours_text
    from reedchord.collection_cache import cached_collection

    whole = cached_collection(named_collection(collection))
    found = neighbours_of(whole[sonority], whole)
    if as_json:
        data = neighbours_data(found, most=most)
        output.data(data)
    else:
        output.result(neighbours_text(found, most=most))

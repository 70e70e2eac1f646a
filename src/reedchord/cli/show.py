"""`reedchord show`: a sonority as a readable card."""

from __future__ import annotations

from typing import Annotated

import typer

from reedchord.cli import output
from reedchord.cli.options import (
    BritishOption,
    OptionalCollection,
    PitchNamesOption,
    SonorityArgument,
    named_collection,
)


def show_command(
    sonority: SonorityArgument,
    collection: OptionalCollection = None,
    a4: Annotated[float, typer.Option(help="Pitch of A4 in Hz.", min=380, max=500)] = 440.0,
    british: BritishOption = False,
    pitch_names: PitchNamesOption = "english",
) -> None:
    """Show all that is known of a sonority, and how well it is known."""
    from reedchord import pitch_names as names
    from reedchord.card import card_text
    from reedchord.collection_cache import cached_collection

    record = cached_collection(named_collection(collection))[sonority]
    style = names.pitch_names(pitch_names)
    output.result(card_text(record, a4_hz=a4, british=british, names=style))

"""`reedchord show`: a sonority as a readable card."""

from __future__ import annotations

from reedchord.cli import output
from reedchord.cli.options import (
    A4Option,
    BritishOption,
    OptionalCollection,
    PitchNamesOption,
    SonorityArgument,
    named_collection,
    speak,
)
from reedchord.cli.set_up_options import LogOption, SetUpOption, tried_of
from reedchord.pitch import A4_HZ


def show_command(
    sonority: SonorityArgument,
    collection: OptionalCollection = None,
    a4: A4Option = A4_HZ,
    british: BritishOption = False,
    pitch_names: PitchNamesOption = "english",
    set_up: SetUpOption = None,
    log: LogOption = None,
) -> None:
    """Show all that is known of a sonority, and how well.

    With a set-up, what was tried goes before what is documented, and both are shown.
    """
    from reedchord.card import card_text
    from reedchord.collection_cache import cached_collection

    speak(british=british, pitch_names=pitch_names, explained=True)
    whole = cached_collection(named_collection(collection))
    tried = tried_of(whole[sonority], whole, set_up, log)
    record = tried.sonority if tried else whole[sonority]
    output.result(card_text(record, a4_hz=a4, tried=tried))

"""`reedchord find`: the sonorities that come nearest to a wish."""

from __future__ import annotations

from typing import TYPE_CHECKING

import typer

from reedchord.cli import find_options as on
from reedchord.cli import output
from reedchord.cli.options import (
    BritishOption,
    JsonOption,
    OptionalCollection,
    PitchNamesOption,
    named_collection,
    speak,
)
from reedchord.cli.set_up_options import LogOption, SetUpOption, as_tried_collection

if TYPE_CHECKING:
    from reedchord.choosing.search import Found

NOTHING_FOUND = 1


def find_command(
    collection: OptionalCollection = None,
    concert: on.ConcertOption = None,
    written: on.WrittenOption = None,
    emphasised: on.EmphasisedOption = None,
    pitch_class: on.PitchClassOption = False,
    interval: on.IntervalOption = None,
    highest: on.HighestOption = None,
    lowest: on.LowestOption = None,
    tones: on.TonesOption = None,
    within: on.WithinOption = None,
    saxophone: on.SaxophoneOption = None,
    at: on.AtOption = None,
    speed: on.SpeedOption = None,
    articulation: on.ArticulationOption = None,
    evidence: on.EvidenceOption = None,
    connects_to: on.ConnectsToOption = None,
    avoid: on.AvoidOption = None,
    avoid_within: on.AvoidWithinOption = None,
    most: on.MostOption = 5,
    set_up: SetUpOption = None,
    log: LogOption = None,
    british: BritishOption = False,
    pitch_names: PitchNamesOption = "english",
    as_json: JsonOption = False,
) -> None:
    """Find sonorities by what sounds and can be played; say why."""
    options = dict(locals())
    from reedchord.choosing.search import find
    from reedchord.choosing.search_text import wish_from_text, wish_text
    from reedchord.choosing.tried_notes import found_with_trials
    from reedchord.collection_cache import cached_collection

    speak(british=british, pitch_names=pitch_names)
    whole = cached_collection(named_collection(collection))
    mine = as_tried_collection(whole, set_up, log)
    found = find(
        mine.speaking if mine else whole,
        wish_from_text(wish_text(options)),
        most=most,
    )
    _tell(found_with_trials(found, mine.tried) if mine else found, most, as_json=as_json)


def _tell(found: Found, most: int, *, as_json: bool) -> None:
    from reedchord.choosing.search_report import found_data, found_text

    if as_json:
        output.data(found_data(found, most=most))
    else:
        output.result(found_text(found, most=most))
    if not found.fitting:
        raise typer.Exit(NOTHING_FOUND)

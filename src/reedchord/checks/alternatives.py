"""Other sonorities for a place: same harmony, and nothing wrong with it or with its neighbours."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import islice

from reedchord.checks.checked_score import Turn
from reedchord.checks.finding import Remedy
from reedchord.checks.played import Played
from reedchord.checks.table import RULES
from reedchord.choosing.judging import Judged
from reedchord.choosing.search import find
from reedchord.choosing.search_wish import Wish
from reedchord.errors import ReedchordError
from reedchord.pitch import cents_text
from reedchord.placement.appearance import wanted_tones
from reedchord.placement.style import Style
from reedchord.placement.tone_wishes import swapped_wish

WITHIN_CENTS = 200
"""How far tones may lie from those that they stand in for; nearer ones are offered first."""
MOST_OFFERED = 2
MOST_TRIED = 12

_SWAPPABLE = tuple(rule for rule in RULES if rule.swappable and rule.about is not None)


def alternatives(turn: Turn) -> tuple[Remedy, ...]:
    """Return the best sonorities of the collection that could stand in a placement's place.

    Each was tried there: none of the rules about single placements finds anything against it,
    nor against the change to it and from it.
    """
    return tuple(islice(_offered(turn), MOST_OFFERED))


def _offered(turn: Turn) -> Iterator[Remedy]:
    collection, here = turn.checked.collection, turn.here
    if collection is None:
        return
    concert = {number: here.sonority.concert(number) for number in here.numbers}
    wish = Wish(
        pitches=tuple(concert.values()),
        emphasised=concert.get(here.emphasised) if here.emphasised else None,
        within_cents=Fraction(WITHIN_CENTS),
        saxophones=(here.sonority.saxophone,),
        dynamic=here.dynamic,
    )
    for judged in find(collection, wish, most=MOST_TRIED).fitting:
        if judged.sonority.id != here.sonority.id and _works(turn, judged):
            yield Remedy(_words(judged, len(concert)), swap_to=judged.sonority.id)


def _words(judged: Judged, wanted: int) -> str:
    farthest = max(abs(meeting.cents) for meeting in judged.met)
    of_all = "its tones" if len(judged.met) == wanted else f"{len(judged.met)} of {wanted} tones"
    return f"swap it for {judged.sonority.id}: {of_all} within {cents_text(farthest)} cents"


def _works(turn: Turn, judged: Judged) -> bool:
    """Whether no rule finds anything against a sonority in this place."""
    instead = _instead(turn.here, judged)
    if instead is None:
        return False
    here = replace(turn, here=instead)
    if any(rule.at(here) for rule in _SWAPPABLE):
        return False
    if turn.after is None:
        return True
    after = Turn(turn.checked, turn.after, before=instead, after=None)
    known = {finding.sentence for rule in _SWAPPABLE for finding in rule.at(_as_it_is(turn))}
    return not [f for rule in _SWAPPABLE for f in rule.at(after) if f.sentence not in known]


def _as_it_is(turn: Turn) -> Turn:
    """Return the turn of what follows, so that what is wrong with it anyway does not count."""
    assert turn.after is not None  # asked only where something follows
    return Turn(turn.checked, turn.after, before=None, after=None)


def _instead(here: Played, judged: Judged) -> Played | None:
    """Return the placement as swapping would leave it; None where it cannot be swapped."""
    try:
        wish, _ = swapped_wish(here.row, here.sonority, judged.sonority, carry=False)
        sounding = wanted_tones(
            wish.placement, judged.sonority, Style(), is_concert=here.row.is_concert
        )
    except ReedchordError:
        return None
    found = replace(here.found, row=here.row.model_copy(update={"wish": wish.placement}))
    return replace(
        here,
        found=found,
        sonority=judged.sonority,
        numbers=sounding.numbers,
        emphasised=sounding.emphasised,
    )

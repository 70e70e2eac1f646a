"""What trials change in a score, told to people."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from reedchord.placement.follow import Followed
from reedchord.placement.standing import places_named
from reedchord.trials.tried_text import differences, doubts, tried_words


def follow_report(found: Sequence[Followed], swapped: Collection[str] = ()) -> Iterator[str]:
    """Yield a few lines for each sonority that was tried; `swapped` are the labels that go."""
    for one in found:
        yield "\n".join(_lines(one, one.label in swapped))


def _lines(one: Followed, is_swapped: bool) -> Iterator[str]:
    sonority = one.tried.documented
    yield f"{one.label} {sonority.id}: {tried_words(one.tried)}"
    yield f"    {places_named(one.places)}"
    if one.tried.speaks:
        told = "its record follows:" if one.is_renewed else "its record says so already"
        yield f"    {told}"
        for difference in differences(one.tried, over_cents=one.over_cents):
            if one.is_renewed:
                yield f"        {difference.words('in the score')}"
        if one.stays_in_tune:
            far = f"more than {one.over_cents:g} cents away"
            yield f"    its cents stay: no tone was measured {far}"
    for sentence in one.missing:
        yield f"    {sentence}"
    if one.is_in_doubt and not is_swapped:
        yield from _offers(one)
    for sentence in doubts(one.tried):
        yield f"    mind: {sentence}"


def _offers(one: Followed) -> Iterator[str]:
    if not one.alternatives:
        yield "    it stays; name a collection with --collection for what could be swapped in,"
        yield "    or look further with: reedchord find, reedchord explore"
        return
    yield "    it stays until you choose; what could be swapped in:"
    for number, other in enumerate(one.alternatives, start=1):
        name = f"{other.sonority.id} ({other.sonority.evidence})"
        yield f"      {number}. {name}, cost {other.cost:.0f}"
        yield from (f"           {reason}" for reason in other.reasons)
    best = one.alternatives[0]
    every = "" if one.tried.speaks or not best.judged.met else ", or --apply-swaps"
    yield f"    choose: --swap {one.label}={best.sonority.id}{every}"

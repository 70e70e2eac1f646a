"""The concert sounds of a sonority on another saxophone: what a collection has that is nearest."""

from __future__ import annotations

from dataclasses import dataclass, replace

from reedchord.carry import Carried, carry_to
from reedchord.choosing.search import Found, Judged, find, judge
from reedchord.choosing.search_conditions import search_in
from reedchord.choosing.search_wish import Wish
from reedchord.collection import Collection
from reedchord.saxophones import Saxophone
from reedchord.sonority import Sonority


@dataclass(frozen=True)
class SameSounds:
    """What comes near the concert sounds of a sonority on another saxophone.

    `carried` is the same fingering there, and `carried_judged` how near that comes to the
    sounds, None where it cannot be fingered; `found` ranks those of the collection for
    that saxophone.
    """

    sonority: Sonority
    carried: Carried
    carried_judged: Judged | None
    found: Found


def same_sounds(
    collection: Collection, sonority: Sonority, to: Saxophone, *, most: int | None = None
) -> SameSounds:
    """Rank the sonorities of a saxophone by the concert pitches of a sonority of another one.

    With `most`, only so many are looked at closely. What is for other saxophones is no
    answer, however near it sounds. Raises RequestError where the sonority is
    for that saxophone already.
    """
    carried = carry_to(sonority, to, taken=collection.sonorities)
    wish = Wish(pitches=sonority.concert_pitches)
    judged = judge(search_in(collection, wish), carried.sonority) if carried.sonority else None
    there = {name: one for name, one in collection.sonorities.items() if one.saxophone == to}
    found = find(replace(collection, sonorities=there), wish, most=most)
    return SameSounds(sonority, carried, judged, found)

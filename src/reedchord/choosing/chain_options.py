"""Which sonorities are weighed for each wish of a row, and how much weighing that is."""

from __future__ import annotations

from collections.abc import Collection as Ids
from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import prod

from reedchord.choosing.chain_request import RowWish
from reedchord.choosing.connection import FRESH_AFTER_SECONDS
from reedchord.choosing.search import Judged, find, judge
from reedchord.choosing.search_conditions import search_in
from reedchord.choosing.search_wish import Wish
from reedchord.choosing.sequence import Moment
from reedchord.collection import Collection
from reedchord.saxophones import Saxophone


@dataclass(frozen=True)
class Offer:
    """What fits one wish on one saxophone, best first; `whole` tells that nothing was left out.

    Where nothing fits, `nearest` holds what was ruled out, nearest first.
    """

    fitting: tuple[Judged, ...]
    whole: bool
    nearest: tuple[Judged, ...] = ()

    @property
    def size(self) -> int:
        """How many options it makes, with the one for what was left out."""
        return len(self.fitting) + (not self.whole)

    def cut(self, width: int) -> Offer:
        """Return the offer with at most so many."""
        if len(self.fitting) <= width:
            return self
        return Offer(self.fitting[:width], whole=False)


class Offers:
    """Looks up what fits a wish; rows repeat themselves, so answers are kept."""

    def __init__(self, collection: Collection, forbidden: Ids[str], searches: int) -> None:
        self._collection = collection
        self._searches = searches
        self._forbidden = frozenset(forbidden)
        self._known: dict[tuple[Wish, int], Offer] = {}

    def of(self, wish: RowWish, member: Saxophone, width: int) -> Offer:
        """Return at most `width` sonorities of one saxophone for a wish; a fixed one is alone."""
        asked = replace(wish.wish, saxophones=(member,))
        if wish.fixed is not None:
            return self._fixed(asked, wish.fixed)
        if (asked, width) not in self._known:
            self._known[asked, width] = self._look_up(asked, width)
        return self._known[asked, width]

    def _look_up(self, wish: Wish, width: int) -> Offer:
        most = width + len(self._forbidden)
        found = find(self._collection, wish, most=most, searches=self._searches)
        allowed = [one for one in found.fitting if one.sonority.id not in self._forbidden]
        whole = found.fitting_count <= most and len(allowed) <= width
        nearest = [one for one in found.ruled_out if one.sonority.id not in self._forbidden]
        return Offer(tuple(allowed[:width]), whole, tuple(nearest))

    def _fixed(self, wish: Wish, fixed: str) -> Offer:
        """Return the one that the composer named: only its saxophone can rule it out."""
        judged = judge(search_in(self._collection, wish), self._collection[fixed])
        if judged.sonority.saxophone not in wish.saxophones:
            return Offer((), whole=True, nearest=(judged,))
        return Offer((judged,), whole=True)


def count_of_moves(
    moments: Sequence[Moment],
    sizes: Sequence[dict[Saxophone, int]],
    players: Sequence[Saxophone],
) -> int:
    """Return how many steps from state to state there are at most, all wishes together.

    `sizes` counts the options of each wish by saxophone.
    """
    total = 0
    for wish, moment in enumerate(moments):
        near = [
            earlier
            for earlier in range(wish)
            if moment.begin_seconds - moments[earlier].end_seconds < FRESH_AFTER_SECONDS
        ]
        held = [1 + sum(sizes[one].get(member, 0) for one in near) for member in players]
        states = prod(held)
        if wish - 1 in near:
            last = [sizes[wish - 1].get(member, 0) for member in players]
            others = [had - just for had, just in zip(held, last, strict=True)]
            states = sum(
                just * prod(others[:player] + others[player + 1 :])
                for player, just in enumerate(last)
            )
        total += states * sum(sizes[wish].get(member, 0) for member in players)
    return total

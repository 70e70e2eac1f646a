"""The best ways through a row of wishes for one group of players, proved where that is possible.

For each wish a few of the nearest sonorities are weighed, and one bound that stands for all
others. Where a best way leads through a bound, more are weighed there; where none does, nothing
that was left out can be better.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from reedchord.choosing.chain_options import Offer, Offers, count_of_moves
from reedchord.choosing.chain_reasons import blocked_error, unfitting_error
from reedchord.choosing.chain_request import Player, RowWish
from reedchord.choosing.connection import Connections
from reedchord.choosing.search import Judged
from reedchord.choosing.sequence import LEFT_OUT, Blocked, Moment, Option, Row, Way, best_ways
from reedchord.errors import RequestError
from reedchord.saxophones import Saxophone

FIRST_WIDTH = 10
"""How many sonorities of each saxophone are weighed for a wish at first."""
LEAST_WIDTH = 3
MOST_MOVES = 2_000_000
"""Steps from state to state that are tried at most in one go: seconds, not minutes."""

_Offered = list[dict[Saxophone, Offer]]
"""What is offered for each wish, by saxophone."""


@dataclass(frozen=True)
class Solved:
    """The best ways, cheapest first, over a row without bounds.

    `width` is how many sonorities of each saxophone were weighed at most for a wish where more
    fit, None where the ways are proved to be the best; no way at all costs less than
    `at_least`.
    """

    players: tuple[Player, ...]
    row: Row
    judged: Sequence[tuple[Judged, ...]]
    ways: tuple[Way, ...]
    width: int | None
    at_least: float


class Solver:
    """Weighs sequences of one row of wishes for one group of players."""

    def __init__(
        self,
        wishes: Sequence[RowWish],
        players: tuple[Player, ...],
        offers: Offers,
        connections: Connections,
    ) -> None:
        self._wishes = wishes
        self._players = players
        self._offers = offers
        self._connections = connections
        self._moments = tuple(
            Moment(wish.begin_seconds, wish.end_seconds, wish.player) for wish in wishes
        )
        self._members = tuple(player.saxophone for player in players)

    def solve(self, count: int, asked: int | None) -> Solved:
        """Return the `count` best ways; `asked` is a width that is neither proved nor widened.

        Raises NoChainError where there is none, RequestError where there is too much to weigh.
        """
        widths = [self._first_width(asked)] * len(self._wishes)
        while True:
            offered = self._offered(widths)
            judged = [
                tuple(one for offer in offers.values() for one in offer.fitting)
                for offers in offered
            ]
            ways = best_ways(self._row(judged, offered), count)
            row = self._row(judged)
            if isinstance(ways, Blocked):
                raise blocked_error(self._wishes, self._players, row, ways, whole=True)
            at_least = ways[0].cost
            loose = {
                wish
                for way in ways
                for wish, option in enumerate(way.options)
                if option == LEFT_OUT
            }
            if not loose:
                return Solved(self._players, row, judged, ways, None, at_least)
            wider = [2 * w if wish in loose else w for wish, w in enumerate(widths)]
            if asked is not None or self._moves(self._offered(wider)) > MOST_MOVES:
                return self._unproved(row, judged, count, max(widths), at_least)
            widths = wider

    def _unproved(
        self,
        row: Row,
        judged: Sequence[tuple[Judged, ...]],
        count: int,
        width: int,
        at_least: float,
    ) -> Solved:
        """Return the best ways through what was weighed."""
        ways = best_ways(row, count)
        if isinstance(ways, Blocked):
            raise blocked_error(self._wishes, self._players, row, ways, whole=False)
        return Solved(self._players, row, judged, ways, width, at_least)

    def _row(self, judged: Sequence[tuple[Judged, ...]], offered: _Offered | None = None) -> Row:
        """Return the row, with bounds for what the offers leave out."""
        options = tuple(
            tuple(Option(one.sonority, one.cost) for one in fitting) for fitting in judged
        )
        bounds = tuple(
            {member: offer.fitting[-1].cost for member, offer in offers.items() if not offer.whole}
            for offers in offered or ()
        )
        return Row(self._moments, options, self._members, self._connections.between, bounds)

    def _first_width(self, asked: int | None) -> int:
        """Return the width to begin with; raises RequestError for too much."""
        width = asked or FIRST_WIDTH
        offered = self._offered([width] * len(self._wishes))
        for wish, offers in zip(self._wishes, offered, strict=True):
            if not any(offer.fitting for offer in offers.values()):
                raise unfitting_error(wish, offers)
        possible = width
        while possible >= 1 and self._moves(_cut(offered, possible)) > MOST_MOVES:
            possible -= 1
        if possible < min(width, LEAST_WIDTH) or (asked is not None and possible < asked):
            raise self._too_much(width, possible)
        return possible

    def _offered(self, widths: Sequence[int]) -> _Offered:
        members = dict.fromkeys(self._members)
        return [
            {
                member: self._offers.of(wish, member, width)
                for member in members
                if wish.player is None or self._members[wish.player] == member
            }
            for wish, width in zip(self._wishes, widths, strict=True)
        ]

    def _moves(self, offered: _Offered) -> int:
        sizes = [{member: offer.size for member, offer in offers.items()} for offers in offered]
        return count_of_moves(self._moments, sizes, self._members)

    def _too_much(self, width: int, possible: int) -> RequestError:
        players, wishes = len(self._players), len(self._wishes)
        hint = (
            f"--candidates {possible} would do."
            if possible >= LEAST_WIDTH
            else "Take fewer players, or divide the row where somebody rests."
        )
        return RequestError(
            "chain.too-much",
            f"{width} candidates for each of {wishes} wishes and {players} players are more than "
            "can be weighed",
            hint=hint,
        )


def _cut(offered: _Offered, width: int) -> _Offered:
    return [{member: one.cut(width) for member, one in offers.items()} for offers in offered]

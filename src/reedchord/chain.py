"""From a row of wishes to the best playable sequence of sonorities, and the next best ones."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf

from reedchord.chain_options import Offer, Offers, count_of_moves
from reedchord.chain_reasons import (
    Change,
    NoChainError,
    PassedOver,
    blocked_error,
    change_to,
    passed_over,
    unfitting_error,
)
from reedchord.chain_request import ChainRequest, Player, RowWish
from reedchord.collection import Collection
from reedchord.connection import Connections
from reedchord.errors import ReedchordError, RequestError, raise_all
from reedchord.saxophones import FAMILY, Saxophone
from reedchord.search import Judged
from reedchord.sequence import Blocked, Moment, Option, Row, Way, best_ways

DEFAULT_WIDTH = 40
"""How many sonorities of each saxophone are weighed for a wish, where nobody says otherwise."""
LEAST_WIDTH = 3
MOST_MOVES = 2_000_000
"""Steps from state to state that are tried at most: seconds, not minutes."""


@dataclass(frozen=True)
class Step:
    """One wish of a chain: what stands there, who plays it, and the change that leads to it.

    `change` is None at a player's first sonority; `passed_over` is the sonority that would
    have fitted better.
    """

    wish: RowWish
    judged: Judged
    player: Player
    change: Change | None
    passed_over: PassedOver | None


@dataclass(frozen=True)
class Sequenced:
    """One playable sequence; `cost` is that of all fits and changes, in cents."""

    cost: float
    steps: tuple[Step, ...]

    @property
    def change_cost(self) -> float:
        """What the changes alone cost."""
        return sum(step.change.cost for step in self.steps if step.change)


@dataclass(frozen=True)
class Chain:
    """The best sequences, cheapest first.

    `width` is how many sonorities of each saxophone were weighed for a wish where more fit,
    None where all were; `proved` tells that no other sequence is better.
    """

    best: tuple[Sequenced, ...]
    width: int | None
    proved: bool


@dataclass(frozen=True)
class _Solved:
    players: tuple[Player, ...]
    row: Row
    judged: Sequence[tuple[Judged, ...]]
    ways: tuple[Way, ...]
    width: int | None
    proved: bool


def chain(
    collection: Collection, request: ChainRequest, *, count: int = 3, width: int | None = None
) -> Chain:
    """Return the `count` cheapest sequences for a row of wishes.

    `width` is the number of sonorities of each saxophone to weigh for a wish. Raises
    RequestError that names the wish and the reason where no sequence is possible, where a
    sonority is not in the collection, and where there is too much to weigh.
    """
    _check_names(collection, request)
    forbidden = {name for name, _ in request.forbidden}
    offers = Offers(collection, forbidden, len(request.wishes))
    connections = Connections(collection)
    solved: list[_Solved] = []
    errors: list[NoChainError] = []
    for players in _sections(collection, request):
        try:
            solver = _Solver(request, players, offers, connections, count)
            solved.append(solver.solve(width))
        except NoChainError as error:
            errors.append(error)
    if not solved:
        raise max(errors, key=lambda error: error.wish)
    return _merged(request, solved, count)


def _sections(collection: Collection, request: ChainRequest) -> list[tuple[Player, ...]]:
    """Return the players, or one for each saxophone that the collection knows."""
    if request.players:
        return [request.players]
    there = {sonority.saxophone for sonority in collection}
    return [(Player(str(member), member),) for member in FAMILY.values() if member in there]


def _check_names(collection: Collection, request: ChainRequest) -> None:
    """Raise every unknown sonority, and those that are both fixed and forbidden."""
    errors: list[ReedchordError] = []
    fixed = [(wish.fixed, wish.where) for wish in request.wishes if wish.fixed is not None]
    forbidden = {name for name, _ in request.forbidden}
    for name, where in [*fixed, *request.forbidden]:
        try:
            collection[name]
        except RequestError as error:
            errors.append(error.at(where))
    for name, where in fixed:
        if name in forbidden:
            words = f"{name} is to stand here, and is forbidden"
            errors.append(RequestError("chain.forbidden", words, where=where))
    if not len(collection):
        errors.append(RequestError("chain.empty", f"no sonority is in {collection.origin}"))
    raise_all(errors)


class _Solver:
    """Weighs sequences for one group of players."""

    def __init__(
        self,
        request: ChainRequest,
        players: tuple[Player, ...],
        offers: Offers,
        connections: Connections,
        count: int,
    ) -> None:
        self._wishes = request.wishes
        self._players = players
        self._offers = offers
        self._connections = connections
        self._count = count
        self._moments = tuple(
            Moment(wish.begin_seconds, wish.end_seconds, wish.player) for wish in request.wishes
        )
        self._members = tuple(player.saxophone for player in players)

    def solve(self, asked: int | None) -> _Solved:
        """Return the best ways; a width that leads nowhere is doubled while there is more."""
        width, offered = self._offered(asked)
        while True:
            judged = [
                tuple(one for offer in offers.values() for one in offer.fitting)
                for offers in offered
            ]
            options = tuple(
                tuple(Option(one.sonority, one.cost) for one in some) for some in judged
            )
            row = Row(self._moments, options, self._members, self._connections.between)
            ways = best_ways(row, self._count)
            whole = all(offer.whole for offers in offered for offer in offers.values())
            if not isinstance(ways, Blocked):
                proved = whole or self._is_proved(offered, ways)
                shown = None if whole else width
                return _Solved(self._players, row, judged, ways, shown, proved)
            wider = self._offers_at(2 * width)
            if whole or asked is not None or self._moves(wider) > MOST_MOVES:
                raise blocked_error(self._wishes, self._players, row, ways, whole=whole)
            width, offered = 2 * width, wider

    def _row(self, judged: Sequence[tuple[Judged, ...]]) -> Row:
        options = tuple(
            tuple(Option(one.sonority, one.cost) for one in fitting) for fitting in judged
        )
        return Row(self._moments, options, self._members, self._connections.between)

    def _offered(self, asked: int | None) -> tuple[int, list[dict[Saxophone, Offer]]]:
        """Return the width and what is offered at it; raises RequestError for too much."""
        width = asked or DEFAULT_WIDTH
        offered = self._offers_at(width)
        for wish, offers in zip(self._wishes, offered, strict=True):
            if not any(offer.fitting for offer in offers.values()):
                raise unfitting_error(wish, offers)
        possible = width
        while possible >= 1 and self._moves(_cut(offered, possible)) > MOST_MOVES:
            possible -= 1
        if possible < min(width, LEAST_WIDTH) or (asked is not None and possible < asked):
            raise self._too_much(width, possible)
        return possible, _cut(offered, possible)

    def _offers_at(self, width: int) -> list[dict[Saxophone, Offer]]:
        members = dict.fromkeys(self._members)
        return [
            {
                member: self._offers.of(wish, member, width)
                for member in members
                if wish.player is None or self._members[wish.player] == member
            }
            for wish in self._wishes
        ]

    def _moves(self, offered: Sequence[dict[Saxophone, Offer]]) -> int:
        sizes = [
            {member: len(offer.fitting) for member, offer in offers.items()} for offers in offered
        ]
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

    def _is_proved(self, offered: Sequence[dict[Saxophone, Offer]], ways: Sequence[Way]) -> bool:
        """Tell whether nothing that was left out could have led to anything better.

        Changes cost nothing at least, so that a way through a sonority that was left out
        costs at least the worst one that was taken, and the best fit everywhere else.
        """
        least = [
            min(offer.fitting[0].cost for offer in offers.values() if offer.fitting)
            for offers in offered
        ]
        worst = ways[-1].cost if len(ways) == self._count else inf
        return all(
            sum(least) - least[wish] + offer.fitting[-1].cost >= worst
            for wish, offers in enumerate(offered)
            for offer in offers.values()
            if not offer.whole
        )


def _cut(offered: Sequence[dict[Saxophone, Offer]], width: int) -> list[dict[Saxophone, Offer]]:
    return [{member: one.cut(width) for member, one in offers.items()} for offers in offered]


def _merged(request: ChainRequest, solved: Sequence[_Solved], count: int) -> Chain:
    """Return the best of all groups of players together."""
    every = sorted(
        ((way.cost, number, way) for number, one in enumerate(solved) for way in one.ways),
        key=lambda entry: entry[:2],
    )[:count]
    best = tuple(_sequenced(request, solved[number], way) for _, number, way in every)
    widths = [one.width for one in solved if one.width is not None]
    return Chain(best, min(widths, default=None), all(one.proved for one in solved))


def _sequenced(request: ChainRequest, solved: _Solved, way: Way) -> Sequenced:
    steps = []
    for number, wish in enumerate(request.wishes):
        chosen = solved.judged[number][way.options[number]]
        player = solved.players[way.players[number]]
        change = change_to(solved.row, way, number)
        over = passed_over(solved.row, way, number)
        steps.append(Step(wish, chosen, player, change, over))
    return Sequenced(way.cost, tuple(steps))

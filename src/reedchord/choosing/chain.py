"""From a row of wishes to the best playable sequence of sonorities, and the next best ones."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from reedchord.choosing.chain_options import Offers
from reedchord.choosing.chain_reasons import (
    Change,
    NoChainError,
    PassedOver,
    change_to,
    passed_over,
)
from reedchord.choosing.chain_request import ChainRequest, Player, RowWish
from reedchord.choosing.chain_solver import Solved, Solver
from reedchord.choosing.connection import Connections
from reedchord.choosing.search import Judged
from reedchord.choosing.sequence import Way
from reedchord.collection import Collection
from reedchord.errors import ReedchordError, RequestError, raise_all
from reedchord.saxophones import FAMILY


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

    `width` is how many sonorities of each saxophone were weighed at most for a wish, None
    where these are proved to be the best of all; no sequence at all costs less than `at_least`.
    """

    best: tuple[Sequenced, ...]
    width: int | None
    at_least: float

    @property
    def proved(self) -> bool:
        """Whether no other sequence is better."""
        return self.width is None


def chain(
    collection: Collection, request: ChainRequest, *, count: int = 3, width: int | None = None
) -> Chain:
    """Return the `count` cheapest sequences for a row of wishes.

    `width` fixes the number of sonorities of each saxophone to weigh for a wish. Raises
    RequestError that names the wish and the reason where no sequence is possible, where a
    sonority is not in the collection, and where there is too much to weigh.
    """
    _check_names(collection, request)
    forbidden = {name for name, _ in request.forbidden}
    offers = Offers(collection, forbidden, len(request.wishes))
    connections = Connections(collection)
    solved: list[Solved] = []
    errors: list[NoChainError] = []
    for players in _sections(collection, request):
        try:
            solver = Solver(request.wishes, players, offers, connections)
            solved.append(solver.solve(count, width))
        except NoChainError as error:
            errors.append(error)
    if not solved:
        furthest = max(errors, key=lambda error: error.wish)
        if len(errors) > 1:
            hints = (furthest.hint, "No other saxophone of the collection gets further.")
            furthest.hint = " ".join(filter(None, hints))
        raise furthest
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
        errors.append(RequestError("chain.empty", f"no sonority is in {collection.called}"))
    raise_all(errors)


def _merged(request: ChainRequest, solved: Sequence[Solved], count: int) -> Chain:
    """Return the best of all groups of players together."""
    every = sorted(
        ((way.cost, number, way) for number, one in enumerate(solved) for way in one.ways),
        key=lambda entry: entry[:2],
    )[:count]
    best = tuple(_sequenced(request, solved[number], way) for _, number, way in every)
    widths = [one.width for one in solved if one.width is not None]
    return Chain(best, max(widths, default=None), min(one.at_least for one in solved))


def _sequenced(request: ChainRequest, solved: Solved, way: Way) -> Sequenced:
    steps = []
    for number, wish in enumerate(request.wishes):
        chosen = solved.judged[number][way.options[number]]
        player = solved.players[way.players[number]]
        change = change_to(solved.row, way, number)
        over = passed_over(solved.row, way, number)
        steps.append(Step(wish, chosen, player, change, over))
    return Sequenced(way.cost, tuple(steps))

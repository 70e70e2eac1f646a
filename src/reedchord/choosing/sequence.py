"""The cheapest ways to give each wish of a row a sonority and a player, and the next cheapest.

Dynamic programming over what every player had last: exact for the options that it is given. What
was left out of them can stand in the row as a bound, which tells whether it could matter.
"""

from __future__ import annotations

from bisect import insort
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from reedchord.choosing.connection import Connection, Room
from reedchord.saxophones import Saxophone
from reedchord.sonority import Sonority


@dataclass(frozen=True)
class Moment:
    """When a wish sounds, in seconds from the first; `player` is the only one who may play it."""

    begin_seconds: Fraction
    end_seconds: Fraction
    player: int | None = None


@dataclass(frozen=True)
class Option:
    """A sonority that a wish may be given, and what it costs there."""

    sonority: Sonority
    cost: float


LEFT_OUT = -1
"""The number of an option that stands for everything that was left out."""


@dataclass(frozen=True)
class Row:
    """What is to be solved: a moment and its options for each wish, in the order of time.

    `left_out` holds for each wish, by saxophone, a cost that nothing left out of the options is
    below. It takes part as an option whose changes cost nothing, so that a way through it is a
    lower bound of every way through what it stands for.
    """

    moments: tuple[Moment, ...]
    options: tuple[tuple[Option, ...], ...]
    players: tuple[Saxophone, ...]
    between: Callable[[Sonority, Sonority], Connection | None]
    left_out: tuple[Mapping[Saxophone, float], ...] = ()


@dataclass(frozen=True)
class Way:
    """One solution: for each wish the number of its option, and of the player who has it."""

    cost: float
    options: tuple[int, ...] = ()
    players: tuple[int, ...] = ()


Held = tuple[int, int]
"""The wish that a player had last, and the option; later wishes depend on nothing else."""
State = tuple[Held | None, ...]
"""For each player what was had last, None for one who begins, or rested long enough."""


@dataclass(frozen=True)
class Blocked:
    """Where no way leads on: the wish, and the states before it."""

    wish: int
    states: tuple[State, ...]


def best_ways(row: Row, count: int) -> tuple[Way, ...] | Blocked:
    """Return the cheapest ways, at most `count`, no two with the same sonorities throughout."""
    start: State = (None,) * len(row.players)
    table: dict[State, list[Way]] = {start: [Way(0.0)]}
    for wish in range(len(row.moments)):
        following: dict[State, list[Way]] = {}
        turn = _Turn(row, wish)
        for state, ways in table.items():
            for new_state, option, player, more in _moves(turn, state):
                kept = following.setdefault(new_state, [])
                for way in ways:
                    if not _keep(kept, count, way, option, player, more):
                        break
        if not following:
            return Blocked(wish, tuple(table))
        table = following
    last: list[Way] = []
    for way in sorted((way for ways in table.values() for way in ways), key=_cost):
        if len(last) < count and all(way.options != other.options for other in last):
            last.append(way)
    return tuple(last)


def _cost(way: Way) -> float:
    return way.cost


def _keep(kept: list[Way], count: int, way: Way, option: int, player: int, more: float) -> bool:
    """Put a way one wish further among the cheapest; tell whether dearer ones can still enter."""
    cost = way.cost + more
    if len(kept) == count and cost >= kept[-1].cost:
        return False
    options = (*way.options, option)
    same = next((other for other in kept if other.options == options), None)
    if same is not None:
        if same.cost <= cost:
            return True
        kept.remove(same)
    insort(kept, Way(cost, options, (*way.players, player)), key=_cost)
    del kept[count:]
    return True


def _moves(turn: _Turn, state: State) -> Iterator[tuple[State, int, int, float]]:
    """Yield every state that follows, with the option, its player and what both cost."""
    rested = [turn.unless_fresh(held) for held in state]
    for player in _who_may(turn.row, turn.wish, state):
        for option, cost in turn.costs(player, state[player]):
            held = turn.unless_fresh((turn.wish, option))
            yield (*rested[:player], held, *rested[player + 1 :]), option, player, cost


def _who_may(row: Row, wish: int, state: State) -> Iterator[int]:
    """Yield the players to try; of several fresh ones on the same saxophone the first is enough."""
    only = row.moments[wish].player
    if only is not None:
        yield only
        return
    anybody = all(moment.player is None for moment in row.moments)
    fresh: set[Saxophone] = set()
    for player, (saxophone, held) in enumerate(zip(row.players, state, strict=True)):
        if held is None:
            if anybody and saxophone in fresh:
                continue
            fresh.add(saxophone)
        yield player


class _Turn:
    """One wish of a row, and what is the same for many states at it: kept once computed."""

    def __init__(self, row: Row, wish: int) -> None:
        self.row, self.wish = row, wish
        self._known: dict[tuple[int, Held | None], list[tuple[int, float]]] = {}
        last = wish + 1 == len(row.moments)
        self._fresh = {
            before
            for before in range(wish + 1)
            if not last and room_between(row, before, wish + 1).is_fresh
        }

    def unless_fresh(self, held: Held | None) -> Held | None:
        """Return what was had last, None where the player rests enough before the next wish."""
        return None if held is None or held[0] in self._fresh else held

    def costs(self, player: int, held: Held | None) -> list[tuple[int, float]]:
        """Return the options that a player can take, each with its cost and the change's."""
        if (player, held) not in self._known:
            self._known[player, held] = list(self._look_up(player, held))
        return self._known[player, held]

    def _look_up(self, player: int, held: Held | None) -> Iterator[tuple[int, float]]:
        row, wish = self.row, self.wish
        room = room_between(row, held[0], wish) if held else None
        if room is not None and room.rest_seconds < 0:
            return
        before = row.options[held[0]][held[1]] if held and held[1] != LEFT_OUT else None
        for number, option in enumerate(row.options[wish]):
            if option.sonority.saxophone != row.players[player]:
                continue
            change: float | None = 0.0
            if room is not None and before is not None:
                change = room.cost(row.between(before.sonority, option.sonority))
            if change is not None:
                yield number, option.cost + change
        if row.left_out and row.players[player] in row.left_out[wish]:
            yield LEFT_OUT, row.left_out[wish][row.players[player]]


def room_between(row: Row, before: int, after: int) -> Room:
    """Return the time that one player has between two wishes."""
    last, following = row.moments[before], row.moments[after]
    length = last.end_seconds - last.begin_seconds
    return Room(float(length), float(following.begin_seconds - last.end_seconds))

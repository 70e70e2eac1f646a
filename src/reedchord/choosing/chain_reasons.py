"""Why a chain is as it is: the changes in it, what was passed over, and why none is possible."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import inf

from reedchord.choosing.chain_options import Offer
from reedchord.choosing.chain_request import Player, RowWish
from reedchord.choosing.connection import Basis, Connection, Room
from reedchord.choosing.sequence import LEFT_OUT, Blocked, Held, Moment, Row, Way, room_between
from reedchord.errors import RequestError
from reedchord.saxophones import Saxophone
from reedchord.sonority import Sonority

WORTH_TELLING_CENTS = 1
"""A better fit by less than this is not worth a word."""


@dataclass(frozen=True)
class Change:
    """One player's change: from what, to what, in what time, at what cost.

    `cost` is infinite where nobody can play it; a negative rest is a sonority that still
    sounds when the next one begins.
    """

    before: Sonority
    after: Sonority
    connection: Connection | None
    room: Room
    cost: float

    @property
    def haste(self) -> float:
        """The time that it asks for over the time there is; infinite between saxophones."""
        known = self.connection
        return known.haste(self.room.change_seconds) if known else inf

    def words(self) -> str:
        """Return the change as a clause: how hard, how that is known, and the time for it."""
        if self.room.rest_seconds < 0:
            return f"{self.before.id} still sounds"
        if self.room.is_fresh:
            return f"after {seconds_text(self.room.rest_seconds)} s of rest any change is easy"
        if self.connection is None:
            return f"{self.before.id} is for another saxophone"
        time = f"in {seconds_text(self.room.change_seconds)} s"
        if self.connection.basis is Basis.SAME:
            return "the same sonority again"
        asked = f"{time} (it asks for {seconds_text(self.connection.needed_seconds)} s)"
        fingers = self.connection.fingers
        if self.connection.basis is Basis.DOCUMENTED:
            known = f"documented as easy, {self.connection.because}"
            return f"{known}; {fingers.words}; {asked}"
        return f"computed as {fingers.grade} ({fingers.score}), {fingers.words}; {asked}"


def seconds_text(seconds: float | Fraction) -> str:
    """Return seconds with at most two places."""
    return f"{float(seconds):.2f}".rstrip("0").rstrip(".")


def change_to(row: Row, way: Way, wish: int) -> Change | None:
    """Return the change that leads to a wish; None where its player begins."""
    before = _neighbour(way, wish, range(wish - 1, -1, -1), way.players[wish])
    return None if before is None else _change(row, before, (wish, way.options[wish]))


def _neighbour(way: Way, wish: int, search: Iterable[int], player: int) -> Held | None:
    """Return what a player has next in the direction of the search, leaving this wish out."""
    near = (one for one in search if one != wish and way.players[one] == player)
    found = next(near, None)
    return None if found is None else (found, way.options[found])


def _change(row: Row, before: Held, after: Held) -> Change:
    old, new = (row.options[wish][option].sonority for wish, option in (before, after))
    connection, room = row.between(old, new), room_between(row, before[0], after[0])
    cost = room.cost(connection)
    return Change(old, new, connection, room, inf if cost is None else cost)


@dataclass(frozen=True)
class PassedOver:
    """A sonority that fits a wish better than the chosen one, and the change that spoke against it.

    `more` is how much dearer the whole would be, infinite where it cannot be played; `change`
    is the dearer of the changes to and from it, None where only a player's other sonorities
    would have become dearer.
    """

    sonority: Sonority
    cost: float
    change: Change | None
    more: float


def passed_over(row: Row, way: Way, wish: int) -> PassedOver | None:
    """Return the best-fitting of the options that fit better than the chosen one, if any."""
    options = row.options[wish]
    chosen = options[way.options[wish]]
    best = min(range(len(options)), key=lambda number: options[number].cost)
    if options[best].cost > chosen.cost - WORTH_TELLING_CENTS:
        return None
    only = row.moments[wish].player
    could = [
        player
        for player, member in enumerate(row.players)
        if member == options[best].sonority.saxophone and only in (None, player)
    ]
    trials = [_trial(row, way, wish, best, player) for player in could]
    return min(trials, key=lambda trial: trial.more)


def _trial(row: Row, way: Way, wish: int, option: int, player: int) -> PassedOver:
    """Put one other option, by one player, into a way that stays as it is elsewhere."""
    with_it = list(_changes_around(row, way, (wish, option), player))
    chosen = wish, way.options[wish]
    at_home = list(_changes_around(row, way, chosen, way.players[wish]))
    before = row.options[wish][chosen[1]].cost + sum(change.cost for change in at_home)
    after = row.options[wish][option].cost + sum(change.cost for change in with_it)
    if player != way.players[wish]:
        before += _bridge_cost(row, way, wish, player)
        after += _bridge_cost(row, way, wish, way.players[wish])
    dearest = max(with_it, key=lambda change: change.cost, default=None)
    picked = row.options[wish][option]
    return PassedOver(picked.sonority, picked.cost, dearest, after - before)


def _changes_around(row: Row, way: Way, here: Held, player: int) -> Iterator[Change]:
    wish = here[0]
    before = _neighbour(way, wish, range(wish - 1, -1, -1), player)
    after = _neighbour(way, wish, range(wish + 1, len(way.players)), player)
    if before is not None:
        yield _change(row, before, here)
    if after is not None:
        yield _change(row, here, after)


def _bridge_cost(row: Row, way: Way, wish: int, player: int) -> float:
    """Return what a player's change over a wish costs that somebody else has."""
    before = _neighbour(way, wish, range(wish - 1, -1, -1), player)
    after = _neighbour(way, wish, range(wish + 1, len(way.players)), player)
    return _change(row, before, after).cost if before and after else 0.0


class NoChainError(RequestError):
    """No sequence is possible: `wish` is the number of the one that rules it out."""

    def __init__(self, code: str, wish: RowWish, message: str, hint: str | None) -> None:
        told = f"wish {wish.number} ({wish.said}): {message}"
        super().__init__(code, told, hint=hint, where=wish.where)
        self.wish = wish.number


def unfitting_error(wish: RowWish, offers: Mapping[Saxophone, Offer]) -> NoChainError:
    """Return the error for a wish that no sonority fits, with the nearest and what rules it out."""
    members = ", ".join(dict.fromkeys(member.name for member in offers))
    nearest = [one for offer in offers.values() for one in offer.nearest]
    hint = None
    if nearest:
        near = min(nearest, key=lambda one: (len(one.ruled_out), *one.gaps, one.cost))
        reasons = "; ".join(f"{said.wish}: {said.words}" for said in near.ruled_out)
        hint = f"The nearest, {near.sonority.id}, is ruled out by {reasons}."
    fixed = f"{wish.fixed} cannot stand here" if wish.fixed else "no sonority fits"
    return NoChainError("chain.unfitting", wish, f"{fixed} (for {members})", hint)


def blocked_error(
    wishes: Sequence[RowWish],
    players: Sequence[Player],
    row: Row,
    blocked: Blocked,
    *,
    whole: bool,
) -> NoChainError:
    """Return the error for a wish that no playable change leads to, with the easiest one.

    `whole` tells that nothing that fits was left out.
    """
    wish = wishes[blocked.wish]
    changes = list(_tried(row, blocked))
    playable = [change for change in changes if change.room.rest_seconds >= 0]
    if playable:
        easiest = min(
            playable,
            key=lambda one: one.connection.haste(one.room.change_seconds) if one.connection else 0,
        )
        why = f"the easiest, {easiest.before.id} to {easiest.after.id}, is {easiest.words()}"
        hint = "Give it more time: a longer value, a rest before it, a slower tempo, or a player."
    else:
        names = ", ".join(player.name for player in players)
        why = f"whoever could play it still sounds ({names})"
        hint = "Let it begin later, or add a player."
    if not whole:
        hint += " Or weigh more candidates."
    return NoChainError("chain.unplayable", wish, f"no playable change leads here; {why}", hint)


def _tried(row: Row, blocked: Blocked) -> Iterator[Change]:
    """Yield every change that was tried to reach the wish where no way leads on."""
    held = {
        (player, one)
        for state in blocked.states
        for player, one in enumerate(state)
        if one is not None and one[1] != LEFT_OUT and _may(row.moments[blocked.wish], player)
    }
    for player, one in sorted(held):
        for number, option in enumerate(row.options[blocked.wish]):
            if option.sonority.saxophone == row.players[player]:
                yield _change(row, one, (blocked.wish, number))


def _may(moment: Moment, player: int) -> bool:
    return moment.player in (None, player)

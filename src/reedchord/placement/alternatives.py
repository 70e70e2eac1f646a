"""What could stand where a sonority does not speak: alike in sound, and near its neighbours."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from reedchord.choosing.connection import Connections
from reedchord.choosing.judging import Judged, judge
from reedchord.choosing.neighbours import statements_about
from reedchord.choosing.search import find
from reedchord.choosing.search_conditions import search_in
from reedchord.choosing.search_wish import Wish
from reedchord.collection import Collection
from reedchord.pitch import signed_cents_text
from reedchord.placement.standing import StandingPlacement
from reedchord.sonority import Sonority

MOST_WEIGHED, MOST_OFFERED = 12, 3


@dataclass(frozen=True)
class Alternative:
    """A sonority that could take a place: how near its tones come, and how it connects there.

    `cost` is in cents: that of its tones and of the hardest change to and from it.
    """

    sonority: Sonority
    judged: Judged
    reasons: tuple[str, ...]
    cost: float


def alternatives(
    sonority: Sonority,
    here: Sequence[StandingPlacement],
    every: Sequence[StandingPlacement],
    collection: Collection,
) -> tuple[Alternative, ...]:
    """Return the best few of a collection for the places of a sonority, the best first.

    They have tones within 50 cents of those that are wanted at any of these places, or are
    documented neighbours; the changes from and to what stands beside them count as well.
    """
    wanted = sorted({number for one in here for number in one.row.numbers})
    emphasised = next((one.row.emphasised for one in here if one.row.emphasised), None)
    wish = Wish(
        pitches=tuple(sonority.concert(number) for number in wanted),
        emphasised=sonority.concert(emphasised) if emphasised else None,
        saxophones=(sonority.saxophone,),
    )
    candidates = {
        one.sonority.id: one
        for one in find(collection, wish, most=MOST_WEIGHED).fitting
        if one.met and one.sonority.id != sonority.id
    }
    for name in statements_about(sonority, collection):
        near = collection.sonorities.get(name)
        if near is not None and near.saxophone == sonority.saxophone:
            candidates.setdefault(name, judge(search_in(collection, wish), near))
    beside = list(_beside(here, every, collection))
    connections = Connections(collection)
    documented = statements_about(sonority, collection)
    made = [
        _alternative(one, beside, connections, is_neighbour=one.sonority.id in documented)
        for one in candidates.values()
    ]
    return tuple(sorted(made, key=lambda one: (one.cost, one.sonority.id))[:MOST_OFFERED])


def _beside(
    here: Sequence[StandingPlacement],
    every: Sequence[StandingPlacement],
    collection: Collection,
) -> Iterator[Sonority]:
    """Yield what stands right before and after these places in the same part."""
    places = {id(one) for one in here}
    by_part: dict[str, list[StandingPlacement]] = {}
    for one in every:
        by_part.setdefault(one.part.id, []).append(one)
    for row in by_part.values():
        for index, one in enumerate(row):
            if id(one) in places:
                for near in (*row[max(index - 1, 0) : index], *row[index + 1 : index + 2]):
                    if near.sonority.id in collection and id(near) not in places:
                        yield near.sonority


def _alternative(
    judged: Judged,
    beside: Sequence[Sonority],
    connections: Connections,
    *,
    is_neighbour: bool,
) -> Alternative:
    sonority, reasons = judged.sonority, [_tones_words(judged)]
    if is_neighbour:
        reasons.append("a documented neighbour")
    points = 0
    for near in {one.id: one for one in beside}.values():
        connection = connections.between(near, sonority)
        if connection is not None and near.id != sonority.id:
            points = max(points, connection.points)
            how = str(connection.because) if connection.because else connection.fingers.grade
            reasons.append(f"beside {near.id}: {connection.basis}, {how}")
    return Alternative(sonority, judged, tuple(reasons), judged.cost + points)


def _tones_words(judged: Judged) -> str:
    met = [
        f"{one.wish.printed()} by {signed_cents_text(one.cents).replace('-', '−')}¢"
        for one in judged.met
    ]
    missing = [one.wish.printed() for one in judged.missing]
    words = f"concert {', '.join(met)}" if met else "none of the tones"
    return f"{words}; lacks concert {', '.join(missing)}" if missing else words

"""Find the sonorities that come nearest to a wish, each with the reasons for its rank."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from reedchord.choosing.judging import Judged, judge
from reedchord.choosing.search_conditions import search_in
from reedchord.choosing.search_wish import Wish
from reedchord.collection import Collection
from reedchord.errors import RequestError

__all__ = ["Found", "Judged", "find", "judge"]

MANY = 2_000
"""From so many sonorities on, arrays are faster than one sonority after the other, even where
numpy must be loaded and the arrays be made for a single search (`tests/benchmarks`)."""


@dataclass(frozen=True)
class Found:
    """What fits a wish, best first, and what was ruled out, nearest first.

    Where only so many were asked for, neither holds more, and `ruled_out` is empty where
    something fits; the counts are always those of the whole collection. `complete` counts
    those that fit and meet every wished pitch.
    """

    wish: Wish
    fitting: tuple[Judged, ...]
    ruled_out: tuple[Judged, ...]
    searched: int
    fitting_count: int
    complete: int


def find(
    collection: Collection, wish: Wish, *, most: int | None = None, searches: int = 1
) -> Found:
    """Rank the sonorities of a collection by what a wish costs with them.

    With `most`, only so many of the best are judged with their reasons, which is fast in
    large collections; `searches` tells how many the collection is in for, so that it can be
    made ready for them. Raises RequestError where nothing is wished, and where the wish connects
    to a sonority that is not in the collection.
    """
    if wish.is_empty:
        hint = "Say what should sound: --concert 'F4 C5'."
        raise RequestError("find.nothing", "nothing is wished", hint=hint)
    search = search_in(collection, wish)
    if most and len(collection) * searches >= MANY:
        from reedchord.choosing.array_search import best_rows, is_on_grid
        from reedchord.choosing.table_columns import tone_table

        if is_on_grid(wish):
            table = tone_table(collection)
            best = best_rows(table, search, most)
            fitting = tuple(judge(search, table.records[row]) for row in best.fitting)
            others = tuple(judge(search, table.records[row]) for row in best.ruled_out)
            return Found(wish, fitting, others, len(collection), best.fitting_count, best.complete)
    return _ranked(wish, [judge(search, sonority) for sonority in collection], most)


def _ranked(wish: Wish, judged: Iterable[Judged], most: int | None) -> Found:
    every = list(judged)
    fitting = sorted((one for one in every if not one.ruled_out), key=_rank)
    others = sorted((one for one in every if one.ruled_out), key=_distance)
    if most is not None and fitting:
        others = []
    return Found(
        wish,
        tuple(fitting[:most]),
        tuple(others[:most]),
        searched=len(every),
        fitting_count=len(fitting),
        complete=sum(not one.missing for one in fitting),
    )


def _rank(one: Judged) -> tuple[float, str]:
    return one.cost, one.sonority.id


def _distance(one: Judged) -> tuple[float, ...]:
    """Few broken wishes are near, then few cents to what is missing, then a low cost."""
    return len(one.ruled_out), *one.gaps, one.cost

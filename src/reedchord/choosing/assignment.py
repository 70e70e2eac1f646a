"""The cheapest way to give each of a few wishes a thing of its own, or none."""

from __future__ import annotations

from collections.abc import Sequence

_Given = tuple[float, tuple[int | None, ...]]
"""Total cost so far, and the column of each row."""


def best_assignment(
    costs: Sequence[Sequence[float | None]], missing_cost: float
) -> list[int | None]:
    """Return for each row the column given to it, with the least total cost.

    `costs` holds a row for each wish and a column for each thing, None where the two do not go
    together; a column is given at most once, a row without one costs `missing_cost`. Exact:
    dynamic programming over the sets of columns in use, of which a dozen columns have few.
    """
    best: dict[int, _Given] = {0: (0.0, ())}
    for row in costs:
        following: dict[int, _Given] = {}
        for used, (total, given) in best.items():
            for column, more in [(None, missing_cost), *enumerate(row)]:
                if more is None or (column is not None and used >> column & 1):
                    continue
                now_used = used if column is None else used | 1 << column
                known = following.get(now_used)
                if known is None or total + more < known[0]:
                    following[now_used] = (total + more, (*given, column))
        best = following
    return list(min(best.values(), key=lambda given: given[0])[1])

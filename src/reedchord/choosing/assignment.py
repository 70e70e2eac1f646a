"""The cheapest way to give each of a few wishes a thing of its own, or none."""

from __future__ import annotations

from collections.abc import Sequence

_Given = tuple[int, tuple[int, ...]]
"""Total cost so far, and the column of each row; the smaller one is the better one."""


def best_assignment(costs: Sequence[Sequence[int | None]], missing_cost: int) -> list[int | None]:
    """Return for each row the column given to it, with the least total cost.

    `costs` holds a row for each wish and a column for each thing, None where the two do not go
    together; a column is given at most once, a row without one costs `missing_cost`. Of ways
    that cost the same, the one is taken that gives the first row the first column, and so on; to
    have none comes last. Exact: dynamic programming over the sets of columns in use, of which a
    dozen columns have few.
    """
    best: dict[int, _Given] = {0: (0, ())}
    for row in costs:
        none = len(row)
        choices = [(column, more) for column, more in enumerate(row) if more is not None]
        following: dict[int, _Given] = {}
        for used, (total, given) in best.items():
            for column, more in [*choices, (none, missing_cost)]:
                if used >> column & 1:
                    continue
                now_used = used if column == none else used | 1 << column
                now = (total + more, (*given, column))
                if now_used not in following or now < following[now_used]:
                    following[now_used] = now
        best = following
    _, given = min(best.values())
    return [
        None if column == len(row) else column for row, column in zip(costs, given, strict=True)
    ]

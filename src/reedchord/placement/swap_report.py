"""What was swapped, told to people: the places, and what changes for the player."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from reedchord.placement.swap import Swap, SwappedScore
from reedchord.sonority_change import changes_for_player


def swap_report(score: SwappedScore) -> Iterator[str]:
    """Yield a few lines for each pair of sonorities that were swapped."""
    pairs: dict[tuple[str, str, str], list[Swap]] = {}
    for one in score.swaps:
        pairs.setdefault((one.old.id, one.new.id, one.new_label), []).append(one)
    for swaps in pairs.values():
        yield "\n".join(_lines(swaps))


def _lines(swaps: Sequence[Swap]) -> Iterator[str]:
    first = swaps[0]
    places = f"{len(swaps)} place{'s' if len(swaps) > 1 else ''}"
    yield (
        f"{first.old_label} {first.old.id} becomes {first.new_label} {first.new.id} at {places}:"
    )
    for one in swaps:
        yield f"    {one.where}"
        yield from (f"        {sentence}" for sentence in one.dropped)
    for sentence in changes_for_player(first.old, first.new):
        yield f"    {sentence}"

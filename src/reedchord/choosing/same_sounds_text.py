"""The same sounds on another saxophone, as text for an arranger and as plain data."""

from __future__ import annotations

from typing import Any

from reedchord.carry_text import carried_data
from reedchord.choosing.same_sounds import SameSounds
from reedchord.choosing.search_report import found_data, found_text, judged_data, judged_lines


def same_sounds_text(same: SameSounds, *, most: int) -> str:
    """Return how near the carried fingering comes, then the nearest of the collection."""
    member = same.carried.saxophone
    lines = [f"The concert sounds of {same.sonority.id} on {member}", ""]
    judged = same.carried_judged
    if judged is None:
        keys = " and no ".join(same.carried.missing_keys)
        lines.append(f"Carried: cannot be fingered, there is no {keys} key")
    else:
        lines.append(f"Carried: the same fingering, cost {judged.cost:.0f}; only a guess")
        lines += judged_lines(judged, same.found.wish)
    if same.found.searched:
        near = found_text(same.found, most=most)
    else:
        near = f"There is no sonority for {member}.\n"
    return "\n".join([*lines, "", "In the collection", near])


def same_sounds_data(same: SameSounds, *, most: int) -> dict[str, Any]:
    """Return the same as plain data, ready for JSON."""
    return {
        **carried_data(same.carried),
        "near": same.carried_judged and judged_data(same.carried_judged),
        "in_collection": found_data(same.found, most=most),
    }

"""Fingerings to be tried as text for people and as plain data for programs."""

from __future__ import annotations

import textwrap
from itertools import count
from typing import Any

from reedchord.exploring.explore import ONLY_A_TRIAL, Exploration, ToTry
from reedchord.text_table import WIDTH


def about(found: Exploration) -> str:
    """Return in a sentence or two how many there are, and how they are ordered."""
    shown = len(found.to_try)
    easiest = "the easiest" if shown == 1 else f"the {shown} easiest"
    many = f"{easiest} of {found.found}" if shown < found.found else f"all {shown}"
    stand = "stands" if found.known == 1 else "stand"
    known = f"; {found.known} more {stand} in the collection already" if found.known else ""
    return f"Changes of {found.called} on {found.saxophone}, {many}{known}."


def exploration_text(found: Exploration) -> str:
    """Return the list: near relatives together, the easiest first."""
    lines, numbers = [about(found), f"Start: {found.home.short()}"], count(1)
    number_width = len(str(len(found.to_try)))
    width = max((len(one.fingering.short()) for one in found.to_try), default=0)
    for family in found.families:
        lines += ["", f"{family.words[0].upper()}{family.words[1:]}"]
        for one in family.members:
            fingering = f"{one.fingering.short():<{width}}"
            lines.append(f"{next(numbers):>{number_width}}.  {fingering}  {words_of(one)}")
    told = textwrap.wrap(ONLY_A_TRIAL, WIDTH, break_on_hyphens=False)
    return "\n".join([*lines, "", *told]) + "\n"


def words_of(one: ToTry) -> str:
    """Return the changes, how hard they are, and what to mind."""
    return "; ".join([f"{one.words()} ({one.difficulty.grade})", *one.remarks])


def exploration_data(found: Exploration) -> dict[str, Any]:
    """Return the same as plain data, ready for JSON."""
    return {
        "saxophone": found.saxophone.name,
        "from": str(found.start),
        "fingering": str(found.home),
        "found": found.found,
        "in_collection": found.known,
        "to_try": [
            {
                "fingering": str(one.fingering),
                "changes": [{"kind": str(c.kind), "key": c.key} for c in one.changes],
                "words": one.words(),
                "family": family.words,
                "grade": one.difficulty.grade,
                "effort": one.effort,
                "remarks": list(one.remarks),
            }
            for family in found.families
            for one in family.members
        ],
    }

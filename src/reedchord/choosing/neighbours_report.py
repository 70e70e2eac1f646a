"""Neighbours as text for people and as plain data for programs."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from typing import Any

from reedchord.choosing.neighbours import DocumentedNeighbour, Neighbours, Statement
from reedchord.fingering_change import ChangeDifficulty
from reedchord.numbers_as_text import counted
from reedchord.text_table import WIDTH

COMPUTED_ONLY = (
    "Computed from the fingers alone: embouchure, air and tongue are not known, and a trial "
    "has the last word."
)


def neighbours_text(found: Neighbours, *, most: int) -> str:
    """Return documented neighbours, then at most so many computed ones, kept apart."""
    home = found.sonority
    lines = [f"{home.id}: {home.label()}, {home.saxophone}", home.fingering.short(), ""]
    lines.append("Documented" if found.documented else "Documented: none")
    for near in found.documented:
        lines += _entry(near.id, _documented_clauses(found, near))
    lines += ["", _computed_head(found, most)]
    for close in found.computed[:most]:
        lines += _entry(close.sonority.id, [_change_words(close.change)])
    if found.computed:
        lines += ["", *textwrap.wrap(COMPUTED_ONLY, WIDTH)]
    return "\n".join(lines) + "\n"


def neighbours_data(found: Neighbours, *, most: int) -> dict[str, Any]:
    """Return the same as plain data, ready for JSON."""
    return {
        "sonority": found.sonority.id,
        "saxophone": found.sonority.saxophone.name,
        "documented": [_documented_data(near) for near in found.documented],
        "computed": [
            {"sonority": close.sonority.id, "change": change_data(close.change)}
            for close in found.computed[:most]
        ],
    }


def change_data(change: ChangeDifficulty) -> dict[str, Any]:
    """Return a change as plain data: score, grade and words."""
    return {"score": change.score, "grade": change.grade, "words": change.words}


def _documented_data(near: DocumentedNeighbour) -> dict[str, Any]:
    return {
        "sonority": near.id,
        "in_collection": near.sonority is not None,
        "statements": [
            {"by": said.by, "because": str(said.because), "note": said.note}
            for said in near.statements
        ],
        "change": change_data(near.change) if near.change else None,
    }


def _computed_head(found: Neighbours, most: int) -> str:
    total = len(found.computed)
    if not total:
        return "Computed: none, the collection has no other sonority for this saxophone"
    if not most:
        return f"Computed: {counted(total, 'neighbour')}, none of them shown"
    shown = f", the {most} easiest of {total}" if total > most else ""
    return f"Computed, easiest first{shown}"


def _documented_clauses(found: Neighbours, near: DocumentedNeighbour) -> Iterator[str]:
    for said in near.statements:
        yield _statement_words(said, near, found.sonority.id)
    if near.change:
        yield f"by the fingers: {_change_words(near.change)}"
    elif near.sonority:
        yield f"for another saxophone: {near.sonority.saxophone.name}"
    else:
        yield "not in this collection"


def _statement_words(said: Statement, near: DocumentedNeighbour, home: str) -> str:
    by = "listed here" if said.by == home else f"{near.id} lists {home}"
    return f"{said.because} ({by})" + (f": {said.note}" if said.note else "")


def _change_words(change: ChangeDifficulty) -> str:
    return f"{change.grade} ({change.score}), {change.words}"


def _entry(name: str, clauses: Iterator[str] | list[str]) -> list[str]:
    lines = [f"  {name}"]
    for clause in clauses:
        lines += textwrap.wrap(
            clause,
            WIDTH,
            initial_indent="    ",
            subsequent_indent="      ",
            break_on_hyphens=False,
        )
    return lines

"""Where notes stand in a part: those with certain ids, or with a footnote that begins so."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from reedchord.musicxml.document import Bar, Part


@dataclass(frozen=True)
class NotePlace:
    """Place of a `<note>`: its part, its bar's index, and its own among the bar's children."""

    part: str
    bar_index: int
    child: int


def notes_by_id(part: Part, ids: Collection[str]) -> dict[str, NotePlace]:
    """Return the places of the notes with these ids, those that the part has."""
    wanted = frozenset(ids)
    found: dict[str, NotePlace] = {}
    for bar in part.bars if wanted else ():
        for child, note in enumerate(bar.element.iterchildren("*")):
            name = note.get("id")
            if name in wanted and note.tag == "note":
                found[name] = NotePlace(part.id, bar.index, child)
    return found


def chords_with_footnote(part: Part, start: str) -> list[tuple[NotePlace, ...]]:
    """Return the notes of each chord whose first note has a footnote that begins so."""
    return [chord for bar in part.bars for chord in _chords(part, bar, start)]


def _chords(part: Part, bar: Bar, start: str) -> Iterator[tuple[NotePlace, ...]]:
    children = list(bar.element.iterchildren("*"))
    for first, note in enumerate(children):
        if note.tag != "note" or not (note.findtext("footnote") or "").startswith(start):
            continue
        last = first + 1
        while last < len(children) and children[last].find("chord") is not None:
            last += 1
        yield tuple(NotePlace(part.id, bar.index, child) for child in range(first, last))

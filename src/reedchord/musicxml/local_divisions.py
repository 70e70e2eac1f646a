"""Divisions that change right before some notes of a bar and back right after them."""

from __future__ import annotations

from collections.abc import Iterator, Set
from fractions import Fraction
from itertools import pairwise
from typing import NamedTuple

from reedchord.musicxml.bar_state import positive_number
from reedchord.musicxml.chord_parts import BarText
from reedchord.musicxml.fragment import Node
from reedchord.musicxml.note_editing import space_before
from reedchord.musicxml.splice import Edit


class LocalDivisions(NamedTuple):
    """The two `<attributes>` and the places of the notes between them among a bar's children.

    `outside` are the divisions in force before the first and after the second.
    """

    opening: Node
    closing: Node
    notes: frozenset[int]
    outside: Fraction

    def removal(self, bar: BarText) -> list[Edit]:
        """Return the edits, in the document's offsets, that take both out."""
        return [
            Edit(
                bar.start + node.start - len(space_before(bar.text, node.start)),
                bar.start + node.end,
                "",
            )
            for node in (self.opening, self.closing)
        ]


def local_divisions(
    bar: BarText, divisions: Fraction | None, notes: Set[int]
) -> Iterator[LocalDivisions]:
    """Yield changes of divisions between which nothing counts in them but some notes of a bar.

    `divisions` are those in force when the bar begins, `notes` the places of these notes
    among the bar's children.
    """
    changes: list[tuple[int, Fraction | None]] = []
    before: dict[int, Fraction | None] = {}
    for index, child in enumerate(bar.node.children):
        number = child.text_of("divisions") if child.tag == "attributes" else None
        if number is None:
            continue
        before[index] = divisions
        divisions = positive_number(number, "divisions")
        changes.append((index, divisions))
    for (first, _), (last, after) in pairwise(changes):
        opening, closing = bar.node.children[first], bar.node.children[last]
        outside = before[first]
        between = {index for index in range(first + 1, last) if _counts(bar.node.children[index])}
        is_ours = between and between <= notes and _is_bare(opening) and _is_bare(closing)
        if is_ours and outside is not None and outside == after:
            yield LocalDivisions(opening, closing, frozenset(between), outside)


def _is_bare(attributes: Node) -> bool:
    """Whether they say nothing but the divisions."""
    return len(attributes.children) == 1 and not attributes.attributes


def _counts(child: Node) -> bool:
    """Whether an element has a length or a distance, which divisions are needed to read."""
    return child.tag != "direction" or child.has("offset")

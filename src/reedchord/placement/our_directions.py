"""Taking out the words, dynamics and hairpins that stand before the chords of a placement."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from reedchord.musicxml.chord_parts import BarText
from reedchord.musicxml.event import Event
from reedchord.musicxml.fragment import Node, parse_fragment
from reedchord.musicxml.note_editing import space_before
from reedchord.musicxml.splice import Edit
from reedchord.placement.record import is_legend

if TYPE_CHECKING:
    from reedchord.placement.found import Found

_Chords = Sequence[tuple[BarText, Event]]
"""Chords of a placement, each with its bar."""


def words_edits(
    found: Found, firsts: _Chords, left: list[str], claimed: set[int]
) -> Iterator[Edit]:
    """Yield the edits that take the labels' words out; changed words stay and are told.

    `firsts` are the first chord of each sonority, `claimed` the starts of words that belong to
    earlier placements.
    """
    wanted = {plain(words) for words in found.row.words}
    for turn, (bar, event) in zip(found.row.turns, firsts, strict=False):
        candidates = _candidates(bar, event.children[0], turn.label, claimed)
        node = next((node for node in candidates if plain(words_of(node)) in wanted), None)
        if node is not None:
            claimed.add(bar.start + node.start)
            yield removal(bar, node)
            continue
        changed = [words for node in candidates if turn.label in (words := words_of(node)).split()]
        if changed:
            left.append(f"{found.where}: the words {plain(changed[0])!r} were changed and stay")


def _candidates(bar: BarText, index: int, label: str, claimed: set[int]) -> list[Node]:
    """Return the directions before a chord with its label, else all with words in its bar."""
    near = [it for it in _directions_before(bar, index) if label in _text_beside(it).split()]
    before, after = bar.node.children[:index], bar.node.children[index:]
    return near or [
        node
        for node in (*reversed(before), *after)
        if bar.start + node.start not in claimed and _text_beside(node)
    ]


def _text_beside(node: Node) -> str:
    """Return the words of a direction that may belong to a chord: a legend belongs to none."""
    words = words_of(node)
    return "" if is_legend(words) else words


def mark_edits(found: Found, chain: _Chords, left: list[str]) -> Iterator[Edit]:
    """Yield edits that take out dynamics and hairpins of ours that stand right before a chord."""
    wanted = [_shape(parse_fragment(mark)) for mark in found.row.marks]
    for bar, event in chain:
        for node in _directions_before(bar, event.children[0]):
            shapes = [
                _shape(child) for kind in node.find_all("direction-type") for child in kind.children
            ]
            if len(shapes) == 1 and shapes[0] in wanted:
                wanted.remove(shapes[0])
                yield removal(bar, node)
    if wanted:
        left.append(f"{found.where}: dynamics that were changed or moved stay")


def _directions_before(bar: BarText, index: int) -> list[Node]:
    """Return the directions with nothing but directions between them and a child of the bar."""
    before: list[Node] = []
    for node in reversed(bar.node.children[:index]):
        if node.tag != "direction":
            break
        before.insert(0, node)
    return before


def _shape(node: Node) -> tuple[object, ...]:
    """Return what a mark is, whatever its place and look on the page."""
    return node.tag, node.get("type"), tuple(_shape(child) for child in node.children)


def removal(bar: BarText, node: Node) -> Edit:
    """Return the edit that takes a direction out, with the white space before it."""
    lead = len(space_before(bar.text, node.start))
    return Edit(bar.start + node.start - lead, bar.start + node.end, "")


def words_of(node: Node) -> str:
    """Return the words of a direction that holds nothing else; empty for all other elements."""
    if node.tag != "direction":
        return ""
    types = node.find_all("direction-type")
    words = [child for kind in types for child in kind.children]
    return words[0].text if len(words) == 1 and words[0].tag == "words" else ""


def plain(words: str) -> str:
    """Return words whatever their line ends."""
    return " ".join(words.split())

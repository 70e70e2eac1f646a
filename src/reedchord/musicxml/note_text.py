"""One element of a score as text whose children can be dropped, replaced and added."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import NamedTuple

from reedchord.musicxml.child_order import insertion_index
from reedchord.musicxml.fragment import Node, parse_fragment
from reedchord.musicxml.note_editing import space_before


class _Child(NamedTuple):
    """A child with what stands between it and the one before: white space, comments."""

    gap: str
    tag: str
    source: str


class NoteText:
    """The text of a `<note>`; what is not named stays as it is, to the byte."""

    def __init__(self, text: str, note: Node) -> None:
        self._head = text[note.start : note.open_end]
        self._children: list[_Child] = []
        end = note.open_end
        for child in note.children:
            self._children.append(_Child(text[end : child.start], child.tag, child.source(text)))
            end = child.end
        self._tail = text[end : note.end]
        first = note.children[0] if note.children else None
        self._gap = space_before(text, first.start) if first else ""

    def drop(self, *tags: str) -> None:
        """Take out every child with one of these tags."""
        self.rewrite(tags, lambda _: None)

    def rewrite(self, tags: tuple[str, ...], new: Callable[[str], str | None]) -> None:
        """Give children with these tags the text that `new` makes of theirs; None drops them."""
        kept: list[_Child] = []
        loose = ""
        for child in self._children:
            source = new(child.source) if child.tag in tags else child.source
            if source is None:
                loose += child.gap[: len(child.gap) - len(space_before(child.gap, len(child.gap)))]
                continue
            kept.append(child._replace(gap=loose + child.gap, source=source))
            loose = ""
        self._children = kept
        self._tail = loose + self._tail

    def put(self, tags: tuple[str, ...], new: str) -> None:
        """Put `new` where the first child with one of these tags stands."""
        index = next(i for i, child in enumerate(self._children) if child.tag in tags)
        self._children[index] = self._children[index]._replace(tag=_tag(new), source=new)

    def add(self, new: str) -> None:
        """Add an element at the place that the schema gives it."""
        tag = _tag(new)
        index = insertion_index("note", tag, [child.tag for child in self._children])
        self._children.insert(index, _Child(self._gap, tag, new))

    def add_notation(self, new: str, *, first: bool = False) -> None:
        """Add a notation, such as a slur, to those that the note has."""
        for index, child in enumerate(self._children):
            if child.tag == "notations" and child.source.endswith("</notations>"):
                node = parse_fragment(child.source)
                inside = child.source[: node.close_start].rstrip()
                point = node.open_end if first else len(inside)
                gap = space_before(child.source, node.children[0].start) if node.children else ""
                source = child.source[:point] + gap + new + child.source[point:]
                self._children[index] = child._replace(source=source)
                return
        self.add(f"<notations>{new}</notations>")

    def drop_notation(self, unwanted: str) -> None:
        """Take out the first notation that is written so, such as one end of a slur."""
        found: list[Node] = []

        def without(source: str) -> str | None:
            node = parse_fragment(source)
            same = [child for child in node.children if child.source(source) == unwanted]
            if found or not same:
                return source
            found.append(same[0])
            return pruned(source, node, lambda child: child == found[0])

        self.rewrite(("notations",), without)

    def drop_attribute(self, name: str, matching: str) -> None:
        """Take out an attribute whose text matches a regular expression."""
        self._head = re.sub(
            rf"""\s+{name}\s*=\s*(?:"(?:{matching})"|'(?:{matching})')""", "", self._head
        )

    def first(self, tag: str) -> str | None:
        """Return the first child with this tag as it is written, None where there is none."""
        return next((child.source for child in self._children if child.tag == tag), None)

    def __str__(self) -> str:
        children = "".join(child.gap + child.source for child in self._children)
        return self._head + children + self._tail


def pruned(text: str, node: Node, is_unwanted: Callable[[Node], bool]) -> str | None:
    """Return an element without its unwanted descendants, None where nothing is left of it.

    The white space before one goes with it, but not where it then stands before the end tag:
    there it was before the descendant came.
    """
    if is_unwanted(node):
        return None
    if not node.children:
        return node.source(text)
    out, end = text[node.start : node.open_end], node.open_end
    is_empty = True
    for child in node.children:
        gap = text[end : child.start]
        kept = pruned(text, child, is_unwanted)
        if kept is None and child.end != node.close_start:
            gap = gap[: len(gap) - len(space_before(gap, len(gap)))]
        out += gap + (kept or "")
        is_empty = is_empty and kept is None
        end = child.end
    return None if is_empty else out + text[end : node.end]


def _tag(element: str) -> str:
    match = re.match(r"<([^\s/>]+)", element)
    assert match is not None  # what is added is an element
    return match[1]

"""The one field of a score's header that carries our record."""

from __future__ import annotations

from typing import NamedTuple

from reedchord.musicxml import markup
from reedchord.musicxml.child_order import insertion_index
from reedchord.musicxml.document import Score
from reedchord.musicxml.fragment import Node, parse_fragment
from reedchord.musicxml.note_editing import space_before
from reedchord.musicxml.splice import Edit
from reedchord.musicxml.tag_search import tags

FIELD_NAME = "reedchord"


class FieldSpan(NamedTuple):
    """Where the field's text stands in the document."""

    start: int
    end: int


def field_text(score: Score) -> str | None:
    """Return the text of our field, None where the score has none."""
    for found in score.root.iterfind("identification/miscellaneous/miscellaneous-field"):
        if found.get("name") == FIELD_NAME:
            return found.text or ""
    return None


def field_span(score: Score) -> FieldSpan | None:
    """Return where our field's text stands, None where the score has none."""
    header, start = _header(score)
    for identification in header.find_all("identification"):
        for miscellaneous in identification.find_all("miscellaneous"):
            for field in miscellaneous.find_all("miscellaneous-field"):
                if field.get("name") == FIELD_NAME and not field.self_closing:
                    return FieldSpan(field.open_end + start, field.close_start + start)
    return None


def new_field_edit(score: Score, text: str) -> Edit:
    """Return the edit that adds our field, with all that must stand around it.

    `text` is ready to stand in XML. The elements that are missing around the field are
    written with it.
    """
    header, start = _header(score)
    new = markup.element("miscellaneous-field", text, name=FIELD_NAME)
    node, parent = header, str(score.root.tag)
    missing = ["identification", "miscellaneous"]
    while missing and (child := node.find(missing[0])) is not None:
        node, parent = child, missing.pop(0)
    for tag in reversed(missing):
        new = markup.element(tag, new)
    added = missing[0] if missing else "miscellaneous-field"
    if node.self_closing:
        return Edit(node.start + start, node.end + start, _opened(node, parent, new))
    index = insertion_index(parent, added, [child.tag for child in node.children])
    point = node.children[index - 1].end if index else node.open_end
    gap = _gap_inside(score.text, node, start)
    return Edit(point + start, point + start, gap + new)


def field_removal(score: Score) -> Edit:
    """Return the edit that takes our field out, and what would be left empty around it.

    Raises ValueError where there is no field: that is our own fault.
    """
    header, start = _header(score)
    for identification in header.find_all("identification"):
        for miscellaneous in identification.find_all("miscellaneous"):
            for field in miscellaneous.find_all("miscellaneous-field"):
                if field.get("name") == FIELD_NAME:
                    node = field
                    for around in (miscellaneous, identification):
                        node = around if around.children == (node,) else node
                    space = space_before(score.text, node.start + start)
                    return Edit(node.start + start - len(space), node.end + start, "")
    raise ValueError("the score has no field of ours")


def _opened(node: Node, tag: str, inside: str) -> str:
    attributes = {name.replace("-", "_"): text for name, text in node.attributes.items()}
    return markup.element(tag, inside, **attributes)


def _gap_inside(text: str, node: Node, start: int) -> str:
    """Return the white space that parts this element's children: new ones follow suit."""
    if not node.children:
        return ""
    return space_before(text, node.children[0].start + start)


def _header(score: Score) -> tuple[Node, int]:
    """Return the header as a node with the root's tag, and what its offsets count from."""
    root = str(score.root.tag)
    opening = next(tags(score.text, root))
    first_cell = "measure" if score.is_timewise else "part"
    end = next(tags(score.text, first_cell, opening.end()), opening)
    header = score.text[opening.end() : max(end.start(), opening.end())]
    return parse_fragment(f"<{root}>{header}</{root}>"), opening.end() - len(f"<{root}>")

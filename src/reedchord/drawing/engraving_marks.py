"""Marks on an engraved page: corners around certain notes, and their labels in the margin.

The corners touch no note, look like no sign of music, and are pure black.
"""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from dataclasses import dataclass

from reedchord.drawing.engraving import LEFT_MARGIN_UNITS, STAFF_UNITS, SVG
from reedchord.drawing.engraving_barlines import break_barlines
from reedchord.drawing.engraving_text import Box, of_class, set_text_plainly, text_span
from reedchord.drawing.picture_files import Picture

_XLINK = "http://www.w3.org/1999/xlink"
ET.register_namespace("", SVG)
ET.register_namespace("xlink", _XLINK)

MARK_CLASS = "placement-mark"
LABEL_CLASS = "placement-label"

_SPACE = STAFF_UNITS / 4
_HEAD_WIDTH = 1.4 * _SPACE
_CLEARANCE = 0.45 * _SPACE
_ARM = 0.9 * _SPACE
_STROKE = 0.2 * _SPACE
_LABEL_SIZE = 2.1 * _SPACE
_POINT = re.compile(r"translate\((-?[\d.]+), ?(-?[\d.]+)\)")
_LINE = re.compile(r"M(-?[\d.]+) (-?[\d.]+) L(-?[\d.]+) (-?[\d.]+)")


@dataclass(frozen=True)
class Marking:
    """What a page shows of one placement: the ids of its notes, and the label."""

    label: str
    ids: frozenset[str]


def page_size(svg: str) -> tuple[float, float]:
    """Return width and height of a page in verovio's units."""
    found = re.search(r'class="definition-scale"[^>]*viewBox="0 0 ([\d.]+) ([\d.]+)"', svg)
    assert found is not None  # verovio draws every page so
    return float(found[1]), float(found[2])


def marked_page(
    svg: str, markings: tuple[Marking, ...], *, unit_mm: float, title: str, key: str
) -> Picture:
    """Return a page with marks on it, its size on paper and a title for screen readers.

    `key` is the page's own in the document that it will stand in: of verovio's ids only those
    that it refers to itself stay, and they end with the key.
    """
    full_width, height = page_size(svg)
    root = ET.fromstring(_with_key(svg, key))
    set_text_plainly(root)
    break_barlines(root)
    for page in of_class(root, "page-margin"):
        systems = of_class(page, "system")
        page.extend([mark for system in systems for mark in _marks(system, markings)])
    left, right = _used_span(root)
    left = min(0, math.floor(left))
    width = min(full_width, math.ceil(right)) - left
    width_mm, height_mm = round(width * unit_mm, 2), round(height * unit_mm, 2)
    root.attrib.pop("overflow", None)
    root.attrib |= {
        "width": f"{width_mm:g}mm",
        "height": f"{height_mm:g}mm",
        "viewBox": f"0 0 {width:g} {height:g}",
        "role": "img",
    }
    for scale in root.findall(_tag("svg")):  # which fills the page
        scale.set("viewBox", f"{left:g} 0 {width:g} {height:g}")
    _tidy(root, title)
    labels = ", ".join(dict.fromkeys(marking.label for marking in markings))
    words = f"{title}; marked: {labels}" if labels else title
    return Picture(ET.tostring(root, encoding="unicode") + "\n", width_mm, height_mm, title, words)


def _used_span(root: ET.Element) -> tuple[float, float]:
    """Return from where to where a page is drawn on: its staves, and the words around them.

    Words may begin before the page, where the first note has long ones.
    """
    staves = [right for staff in of_class(root, "staff") for _, right, _ in _lines(staff)]
    spans = [text_span(text) for text in root.iter(_tag("text"))]
    left = min((start for start, _ in spans), default=0.0)
    right = max([*staves, *(end for _, end in spans)], default=0.0)
    return LEFT_MARGIN_UNITS + left - _SPACE, LEFT_MARGIN_UNITS + right + _SPACE


def _with_key(svg: str, key: str) -> str:
    """Put the key in place of the name that verovio gives a document."""
    name = re.search(r'<svg [^>]*\bid="([^"]+)"', svg)
    assert name is not None  # verovio names every page
    return svg.replace(name[1], key)


def _tidy(root: ET.Element, title: str) -> None:
    """Leave one title, for the whole page and for each mark, and no id that nothing refers to."""
    for holder in list(root.iter()):
        if holder.get("class") != MARK_CLASS:
            for child in [*holder.findall(_tag("title")), *holder.findall(_tag("desc"))]:
                holder.remove(child)
    defined = {symbol for defs in root.findall(_tag("defs")) for symbol in defs}
    for element in root.iter():
        if element is not root and element not in defined:
            element.attrib.pop("id", None)
    named = ET.Element(_tag("title"))
    named.text = title
    root.insert(0, named)


def _marks(system: ET.Element, markings: tuple[Marking, ...]) -> Iterator[ET.Element]:
    """Yield corners around the notes of each placement, and labels at the right of its staff."""
    right = 0.0
    margin: dict[float, list[str]] = {}
    staves = [(staff, _lines(staff)) for staff in of_class(system, "staff")]
    boxes: dict[Marking, list[Box]] = {}
    for staff, lines in staves:
        right = max(right, *(end for _, end, _ in lines), 0.0)
        for marking in markings:
            heads = [_note_box(note) for note in _notes(staff, marking.ids)]
            if heads:
                boxes.setdefault(marking, []).extend(heads)
                labels = margin.setdefault(sum(y for *_, y in lines) / len(lines), [])
                labels += [marking.label] if marking.label not in labels else []
    for marking, heads in boxes.items():
        yield _corners(_around(heads), marking.label)
    for middle, labels in margin.items():
        yield _margin_label(right + 0.8 * _SPACE, middle, " ".join(labels))


def _notes(staff: ET.Element, ids: frozenset[str]) -> list[ET.Element]:
    return [note for note in staff.iter(_tag("g")) if note.get("id") in ids]


def _note_box(note: ET.Element) -> Box:
    """Return the box of a notehead, with the accidental and the parentheses that belong to it."""
    points = [_POINT.match(use.get("transform", "")) for use in note.iter(_tag("use"))]
    places = [(float(point[1]), float(point[2])) for point in points if point]
    return Box(
        min(x for x, _ in places),
        min(y for _, y in places) - _SPACE / 2,
        max(x for x, _ in places) + _HEAD_WIDTH,
        max(y for _, y in places) + _SPACE / 2,
    )


def _around(boxes: list[Box]) -> Box:
    return Box(
        min(box.left for box in boxes) - _CLEARANCE,
        min(box.top for box in boxes) - _CLEARANCE,
        max(box.right for box in boxes) + _CLEARANCE,
        max(box.bottom for box in boxes) + _CLEARANCE,
    )


def _lines(staff: ET.Element) -> list[tuple[float, float, float]]:
    """Return left end, right end and height of the lines of a staff in one bar."""
    found = [_LINE.fullmatch(path.get("d", "")) for path in staff.findall(_tag("path"))]
    lines = [tuple(map(float, line.groups())) for line in found if line]
    return [(left, right, y) for left, y, right, _ in lines]


def _corners(box: Box, label: str) -> ET.Element:
    """Return four corners around a box, with the label as what screen readers say."""
    path = "".join(
        f"M{x:g} {y + down * _ARM:g}V{y:g}H{x + inward * _ARM:g}"
        for x, inward in ((box.left, 1), (box.right, -1))
        for y, down in ((box.top, 1), (box.bottom, -1))
    )
    mark = ET.Element(_tag("g"), {"class": MARK_CLASS})
    ET.SubElement(mark, _tag("title")).text = label
    look = {"fill": "none", "stroke": "#000", "stroke-width": f"{_STROKE:g}"}
    ET.SubElement(mark, _tag("path"), {"d": path, **look})
    return mark


def _margin_label(x: float, middle: float, words: str) -> ET.Element:
    baseline = middle + 0.35 * _LABEL_SIZE
    mark = ET.Element(
        _tag("text"),
        {
            "class": LABEL_CLASS,
            "x": f"{x:g}",
            "y": f"{baseline:g}",
            "font-size": f"{_LABEL_SIZE:g}px",
            "font-weight": "bold",
        },
    )
    mark.text = words
    return mark


def _tag(name: str) -> str:
    return f"{{{SVG}}}{name}"

"""Barlines between staves that give way to the fingerings that stand on them.

Verovio breaks them for other words; a line of keys is long, and would be crossed.
"""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator

from reedchord.drawing.engraving import STAFF_UNITS, SVG
from reedchord.drawing.engraving_text import Box, of_class, text_size, text_span

_UPRIGHT = re.compile(r"M(-?[\d.]+) (-?[\d.]+) L(-?[\d.]+) (-?[\d.]+)")
_ASCENT, _DESCENT = 0.8, 0.3
"""What letters reach above and below their line, in parts of their size."""
_ROOM = STAFF_UNITS / 20


def break_barlines(page: ET.Element) -> None:
    """Leave out what would cross a fingering; barlines on the staves themselves are whole."""
    boxes = [
        _box(text) for group in of_class(page, "fing") for text in group.iter(f"{{{SVG}}}text")
    ]
    for barline in of_class(page, "barLine"):
        for path in list(barline):
            pieces = _broken(path, boxes)
            if pieces is not None:
                at = list(barline).index(path)
                barline[at : at + 1] = pieces


def _box(text: ET.Element) -> Box:
    left, right = text_span(text)
    line, size = float(text.get("y", "0")), text_size(text)
    return Box(
        left - _ROOM, line - _ASCENT * size - _ROOM, right + _ROOM, line + _DESCENT * size + _ROOM
    )


def _broken(path: ET.Element, boxes: list[Box]) -> list[ET.Element] | None:
    """Return the pieces of an upright line that stay, None where nothing stands on it."""
    found = _UPRIGHT.fullmatch(path.get("d", ""))
    if found is None or found[1] != found[3]:
        return None
    x, top, bottom = float(found[1]), float(found[2]), float(found[4])
    crossed = sorted(
        (box.top, box.bottom)
        for box in boxes
        if box.left < x < box.right and top < box.bottom and box.top < bottom
    )
    if not crossed:
        return None
    return [
        ET.Element(path.tag, path.attrib | {"d": f"M{x:g} {start:g} L{x:g} {end:g}"})
        for start, end in _left_over(top, bottom, crossed)
    ]


def _left_over(
    top: float, bottom: float, gaps: list[tuple[float, float]]
) -> Iterator[tuple[float, float]]:
    for start, end in gaps:
        if top < start:
            yield top, start
        top = max(top, end)
    if top < bottom:
        yield top, bottom

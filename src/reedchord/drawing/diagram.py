"""A fingering as a picture of the two hands, in SVG: pure black and white, named keys.

Pressed keys are black, a half pressed one is filled to the half, lifted fingers are outlines.
The drawing is our own and comes from the table of keys.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from enum import StrEnum
from xml.sax.saxutils import escape, quoteattr

from reedchord.drawing.diagram_layout import (
    Layout,
    Pad,
    Word,
    stacked_layout,
    strip_layout,
    wide_layout,
)
from reedchord.drawing.picture_files import Picture
from reedchord.errors import RequestError, did_you_mean
from reedchord.fingering import Amount, Fingering, unknown_keys
from reedchord.keywork import Group
from reedchord.saxophones import Saxophone
from reedchord.sonority import Sonority

PAGE_WIDTH_MM, PAGE_HEIGHT_MM = 170, 240
"""What a portrait page of A4 or Letter paper has room for within its margins."""

COLUMN_MM_PER_UNIT = 0.45
"""Scale of diagrams in a column: names of keys are set in 8 points."""

FONT = "Libertinus Serif, Times New Roman, serif"
STROKE = 0.7
_LEAN = 3.0
_ACCIDENTAL_SIZE = 8


class DiagramSize(StrEnum):
    """What a diagram is made for."""

    FOOTNOTE = "footnote"
    TEXT = "text"
    PAGE = "page"


def diagram_size(name: str) -> DiagramSize:
    """Return the size with this name; raises RequestError with the names there are."""
    if name not in list(DiagramSize):
        raise RequestError(
            "diagram.size", f"{name!r} is no size", hint=did_you_mean(name, DiagramSize)
        )
    return DiagramSize(name)


_HEIGHT_MM = {DiagramSize.FOOTNOTE: 12.0, DiagramSize.TEXT: 20.0}
_STRIP_HEIGHT_MM = {DiagramSize.FOOTNOTE: 5.0, DiagramSize.TEXT: 8.0}
_FILLED_PART: dict[Amount | None, float] = {Amount.HALF: 0.5, Amount.SLIGHTLY: 0.25}


def fingering_diagram(
    fingering: Fingering,
    *,
    saxophone: Saxophone | None = None,
    name: str = "",
    size: DiagramSize = DiagramSize.TEXT,
    strip: bool = False,
) -> Picture:
    """Draw a fingering; the same request gives the same bytes.

    `name` is what the fingering is for. Raises RequestError when no saxophone of that kind
    has one of the keys.
    """
    if saxophone and (missing := unknown_keys(fingering, saxophone.name)):
        raise RequestError(
            "diagram.keys",
            f"{' and '.join(missing)}: no {saxophone} has it",
            hint="Leave the key out, or choose another saxophone.",
        )
    layout = _layout_for(fingering, size, strip=strip)
    scale = _scale_mm(layout, size, strip=strip)
    return _drawn(layout, scale, _title(name, saxophone), fingering.words())


def sonority_diagram(
    sonority: Sonority, *, size: DiagramSize = DiagramSize.TEXT, strip: bool = False
) -> Picture:
    """Draw the fingering of a sonority."""
    return fingering_diagram(
        sonority.fingering,
        saxophone=sonority.saxophone,
        name=sonority.label(),
        size=size,
        strip=strip,
    )


def column_diagram(sonority: Sonority, width_mm: float) -> Picture:
    """Draw the right hand under the left, for a column of this width.

    All have one scale, but for one that would be wider than the column.
    """
    layout = stacked_layout(sonority.fingering)
    scale = min(COLUMN_MM_PER_UNIT, width_mm / layout.width)
    title = _title(sonority.label(), sonority.saxophone)
    return _drawn(layout, scale, title, sonority.fingering.words())


def shapes(layout: Layout) -> Iterator[str]:
    """Yield the SVG elements of a layout, in its own units."""
    yield from map(_pad, layout.pads)
    yield from map(_word, layout.words)


def _title(name: str, saxophone: Saxophone | None) -> str:
    title = f"Fingering of {name}" if name else "Fingering"
    return f"{title}, {saxophone}" if saxophone else title


def _drawn(layout: Layout, scale: float, title: str, words: str) -> Picture:
    width_mm, height_mm = round(layout.width * scale, 2), round(layout.height * scale, 2)
    head = (
        '<svg xmlns="http://www.w3.org/2000/svg" role="img"'
        f' width="{_number(width_mm)}mm" height="{_number(height_mm)}mm"'
        f' viewBox="0 0 {_number(layout.width)} {_number(layout.height)}"'
        f' font-family="{FONT}" stroke-width="{STROKE}">'
    )
    texts = [f"<title>{escape(title)}</title>", f"<desc>{escape(words)}</desc>"]
    svg = "\n  ".join([head, *texts, *shapes(layout)]) + "\n</svg>\n"
    return Picture(svg, width_mm, height_mm, title, words)


def _layout_for(fingering: Fingering, size: DiagramSize, *, strip: bool) -> Layout:
    if strip:
        return strip_layout(fingering)
    return stacked_layout(fingering) if size is DiagramSize.PAGE else wide_layout(fingering)


def _scale_mm(layout: Layout, size: DiagramSize, *, strip: bool) -> float:
    """Return the millimetres of one unit: the height is given, or the page is filled."""
    heights = _STRIP_HEIGHT_MM if strip else _HEIGHT_MM
    if size in heights:
        return heights[size] / layout.height
    return min(PAGE_WIDTH_MM / layout.width, PAGE_HEIGHT_MM / layout.height)


def _pad(pad: Pad) -> str:
    """Draw a key: its outline, and black up to where it is pressed.

    Keys for the palm and the side of a finger lean, as they lie askew to the fingers.
    """
    state = "lifted" if pad.amount is None else f"pressed {pad.amount}"
    lean = _LEAN if pad.key.group in (Group.PALM, Group.SIDE) else 0.0
    whole = "#000" if pad.amount is Amount.FULL else "#fff"
    shapes = f'<path d="{_outline(pad, 1.0, lean)}" fill="{whole}" stroke="#000"/>'
    if pad.amount in _FILLED_PART:
        shapes += f'<path d="{_outline(pad, _FILLED_PART[pad.amount], lean)}"/>'
    return f'<g class="{state}" data-key={quoteattr(pad.key.name)}>{shapes}</g>'


def _outline(pad: Pad, part: float, lean: float) -> str:
    """Return the path around the lower part of a key, its upper edge shifted by `lean`.

    Leaning keys have no round corners; of the others only a whole one is round on top.
    """
    inset = STROKE / 2
    left, right = pad.x + inset, pad.x + pad.width - inset
    top, bottom = pad.y + inset, pad.y + pad.height - inset
    radius = 0.0 if lean else min(right - left, bottom - top) / 4
    rounding = radius if part == 1.0 else 0.0
    top = bottom - (bottom - top) * part
    points = [
        ("M", (left + lean * part + rounding, top)),
        ("L", (right - lean * (1 - part) - rounding, top)),
        ("q", (rounding, 0, rounding, rounding)),
        ("L", (right - lean, bottom - radius)),
        ("q", (0, radius, -radius, radius)),
        ("L", (left + radius, bottom)),
        ("q", (-radius, 0, -radius, -radius)),
        ("L", (left + lean * part, top + rounding)),
        ("q", (0, -rounding, rounding, -rounding)),
    ]
    steps = [
        verb + " ".join(map(_number, numbers))
        for verb, numbers in points
        if verb != "q" or any(numbers)
    ]
    return "".join(steps) + "Z"


def _word(word: Word) -> str:
    anchor = ' text-anchor="middle"' if word.centred else ""
    # Accidentals are small in text faces.
    text = re.sub(
        "[♯♭]", rf'<tspan font-size="{_ACCIDENTAL_SIZE}">\g<0></tspan>', escape(word.text)
    )
    return (
        f'<text x="{_number(word.x)}" y="{_number(word.y)}" font-size="{_number(word.size)}"'
        f'{anchor} fill="{"#fff" if word.on_black else "#000"}">{text}</text>'
    )


def _number(length: float) -> str:
    return f"{round(length, 3):g}"

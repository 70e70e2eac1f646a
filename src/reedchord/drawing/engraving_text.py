"""Signs of music within the text of engraved pages, in letters that every font has.

Verovio sets them in a font of its own, which typesetters and many viewers do not take from
the page: a metronome mark would begin with an empty box.
"""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from typing import NamedTuple

from reedchord.drawing.engraving import SVG

CHARACTER_WIDTH = 0.56
"""Width of a character in parts of its size, more than most have."""
_MUSIC_FONT_TO_TEXT = 405 / 720
"""Size of verovio's text to that of the signs within it."""
_WORDS = {
    0xECA0: "breve",
    0xECA2: "whole",
    0xECA3: "half",
    0xECA5: "♩",
    0xECA7: "♪",
    0xECA9: "16th",
    0xECAB: "32nd",
    0xECAD: "64th",
    0xECB7: ".",
    **dict.fromkeys((0xE260, 0xEA64, 0xED60), "♭"),
    **dict.fromkeys((0xE261, 0xEA65, 0xED61), "♮"),
    **dict.fromkeys((0xE262, 0xEA66, 0xED62), "♯"),
}
_DYNAMICS = {
    **{0xE520 + index: letter for index, letter in enumerate("pmfrszn")},
    0xE52B: "pp",
    0xE52C: "mp",
    0xE52D: "mf",
    0xE52F: "ff",
    0xE530: "fff",
    0xE52A: "ppp",
    0xE534: "fp",
    0xE536: "sf",
    0xE539: "sfz",
}
"""Both by the code points of SMuFL, the Standard Music Font Layout of the W3C."""
_SPACE_BEFORE_DOT = re.compile(r"\s+(?=\uECB7)")
_PRIVATE = re.compile(r"[\uE000-\uF8FF]")


class Box(NamedTuple):
    """A part of a page, in verovio's units."""

    left: float
    top: float
    right: float
    bottom: float


def set_text_plainly(root: ET.Element) -> None:
    """Set a page's text so that it looks alike wherever the page is shown.

    Fingerings lose the weight that verovio gives them, made for digits: in a line of keys it
    is heavy, and some fonts lack signs in it.
    """
    for group in of_class(root, "fing"):
        for text in group.findall(f"{{{SVG}}}text"):
            text.set("font-weight", "normal")
    spans = [span for span in root.iter(f"{{{SVG}}}tspan") if _PRIVATE.search(span.text or "")]
    for span in spans:
        _spell_out(span)
    if not any(_PRIVATE.search(span.text or "") for span in spans):
        _drop_fonts(root)


def text_size(text: ET.Element) -> float:
    """Return the size of the largest letters of a text; the text itself may have none."""
    return max(float(part.get("font-size", "0").removesuffix("px")) for part in text.iter())


def text_span(text: ET.Element) -> tuple[float, float]:
    """Return about where a text begins and ends, from its number of characters."""
    longest = max((len(run.strip()) for run in text.itertext()), default=0)
    width = longest * text_size(text) * CHARACTER_WIDTH
    before = {"end": 1.0, "middle": 0.5}.get(text.get("text-anchor", ""), 0.0)
    start = float(text.get("x", "0")) - width * before
    return start, start + width


def of_class(root: ET.Element, name: str) -> list[ET.Element]:
    """Return the groups of a page that are of one of verovio's classes."""
    return [group for group in root.iter(f"{{{SVG}}}g") if name in group.get("class", "").split()]


def _spell_out(span: ET.Element) -> None:
    text = span.text or ""
    is_dynamic = any(ord(sign) in _DYNAMICS for sign in text)
    plain = _SPACE_BEFORE_DOT.sub("", text).translate(_WORDS | _DYNAMICS)
    if _PRIVATE.search(plain):
        return  # a sign that has no letters: the font that comes with the page may help
    span.text = plain
    size = float(span.get("font-size", "0").removesuffix("px"))
    for name in ("font-family", "letter-spacing"):
        span.attrib.pop(name, None)
    span.set("font-size", f"{size * _MUSIC_FONT_TO_TEXT:g}px")
    if is_dynamic:
        span.attrib |= {"font-style": "italic", "font-weight": "bold"}


def _drop_fonts(root: ET.Element) -> None:
    for style in root.findall(f"{{{SVG}}}style"):
        if (style.text or "").lstrip().startswith("@font-face"):
            root.remove(style)

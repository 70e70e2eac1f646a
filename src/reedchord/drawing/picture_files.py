"""A drawing, and its SVG as a file: SVG itself, PNG, or PDF on a page of the picture's size."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from reedchord.drawing.typesetting import typeset
from reedchord.file_endings import endings_named, format_by_ending

DOTS_PER_INCH = 300
"""Resolution of PNG pictures, the usual one for print."""

# The document's date is left out, so that the same picture gives the same bytes.
_PAGE = """
#set document(title: sys.inputs.title, date: none)
#set page(width: {width}mm, height: {height}mm, margin: 0mm, fill: white)
#image(bytes(sys.inputs.svg), format: "svg", width: 100%, height: 100%, alt: sys.inputs.words)
"""


@dataclass(frozen=True)
class Picture:
    """A drawing: its SVG, its size on paper in millimetres, and what it says in words."""

    svg: str
    width_mm: float
    height_mm: float
    title: str
    words: str


class PictureFormat(StrEnum):
    """A file format for pictures, named like its suffix."""

    SVG = "svg"
    PNG = "png"
    PDF = "pdf"


def picture_format(path: Path) -> PictureFormat:
    """Return the format that a file's ending tells; raises RequestError for any other."""
    return format_by_ending(path, endings_named(PictureFormat), "a picture")


def picture_bytes(
    svg: str,
    kind: PictureFormat,
    *,
    width_mm: float,
    height_mm: float,
    title: str = "",
    words: str = "",
    dots_per_inch: float = DOTS_PER_INCH,
) -> bytes:
    """Return a picture of this size on paper as the bytes of a file; only PNG has pixels.

    `title` and `words` are for people who hear a PDF read. Text is set in the fonts that
    come with the typesetter, so that every machine draws alike.
    """
    if kind is PictureFormat.SVG:
        return svg.encode("utf-8")
    return typeset(
        _PAGE.format(width=width_mm, height=height_mm),
        {"svg": svg, "title": title, "words": words},
        png=kind is PictureFormat.PNG,
        dots_per_inch=dots_per_inch,
    )

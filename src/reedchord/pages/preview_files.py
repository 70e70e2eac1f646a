"""A preview as a file: one tall picture, pages of paper, or a web page with everything in it."""

from __future__ import annotations

import json
import re
from dataclasses import asdict
from enum import StrEnum
from pathlib import Path
from xml.sax.saxutils import escape

from reedchord.drawing.paper import Paper
from reedchord.drawing.picture_files import Picture, PictureFormat, picture_bytes
from reedchord.drawing.templates import filled_page, template_text
from reedchord.drawing.typesetting import typeset_document
from reedchord.file_endings import endings_named, format_by_ending
from reedchord.pages.preview import ABOUT_MARKS, WIDTH_MM, Preview, PreviewedBars

_MARGIN_MM = 8.0
_TITLE_MM, _HEADING_MM, _STAGE_MM, _CAPTION_MM = 6.0, 4.8, 3.8, 3.4
_FONT = "Libertinus Serif, Times New Roman, serif"
_DOTS_PER_INCH = 200


class PreviewFormat(StrEnum):
    """A file format for previews, named like its suffix."""

    SVG = "svg"
    PNG = "png"
    PDF = "pdf"
    HTML = "html"


def preview_format(path: Path) -> PreviewFormat:
    """Return the format that a file's ending tells; raises RequestError for any other."""
    return format_by_ending(path, endings_named(PreviewFormat), "a preview")


def preview_bytes(made: Preview, kind: PreviewFormat, paper: Paper = Paper.A4) -> bytes:
    """Return a preview as the bytes of a file; `paper` counts for PDF."""
    if kind is PreviewFormat.HTML:
        return _html(made).encode("utf-8")
    if kind is PreviewFormat.PDF:
        return _pdf(made, paper)
    picture = preview_picture(made)
    return picture_bytes(
        picture.svg,
        PictureFormat(kind),
        width_mm=picture.width_mm,
        height_mm=picture.height_mm,
        title=picture.title,
        words=picture.words,
        dots_per_inch=_DOTS_PER_INCH,
    )


def preview_picture(made: Preview) -> Picture:
    """Return everything as one picture, headings above and captions below the music."""
    column = _Column()
    column.text(made.title, _TITLE_MM, "font-weight='bold'")
    for bars in made.bars:
        column.text(bars.heading, _HEADING_MM, "font-weight='bold'")
        for stage in bars.stages:
            if stage.heading:
                column.text(stage.heading, _STAGE_MM, "font-style='italic'")
            for page in stage.pages:
                column.picture(page)
        for caption in bars.captions:
            column.text(caption, _CAPTION_MM)
    if made.placements:
        column.text(ABOUT_MARKS, _CAPTION_MM, "font-style='italic'")
    width, height = WIDTH_MM + 2 * _MARGIN_MM, round(column.y + _MARGIN_MM, 2)
    words = "; ".join(f"{bars.heading}: {_spoken(bars)}" for bars in made.bars)
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
        f' role="img" width="{width:g}mm" height="{height:g}mm" viewBox="0 0 {width:g} {height:g}"'
        f' font-family="{_FONT}">\n<title>{escape(made.title)}</title>\n'
        f'<desc>{escape(words)}</desc>\n<rect width="100%" height="100%" fill="#fff"/>\n'
        + "\n".join(column.drawn)
        + "\n</svg>\n"
    )
    return Picture(svg, width, height, made.title, words)


def _spoken(bars: PreviewedBars) -> str:
    return "; ".join(bars.captions) or "no sonorities"


class _Column:
    """Text and pictures under each other; millimetres from the top."""

    def __init__(self) -> None:
        self.y = _MARGIN_MM
        self.drawn: list[str] = []

    def text(self, words: str, size: float, look: str = "") -> None:
        self.y += 1.4 * size
        self.drawn.append(
            f'<text x="{_MARGIN_MM:g}" y="{self.y:g}" font-size="{size:g}" {look}>'
            f"{escape(words)}</text>"
        )
        self.y = round(self.y + 0.3 * size, 2)

    def picture(self, picture: Picture) -> None:
        """Set a picture into this one: its size in millimetres, without units."""
        place = f'x="{_MARGIN_MM:g}" y="{self.y:g}"'
        head, _, rest = picture.svg.partition(">")
        head = re.sub(r' (width|height)="([\d.]+)mm"', r' \1="\2"', head)
        head = head.replace("<svg ", f"<svg {place} ", 1).replace(' role="img"', "")
        self.drawn.append(f"{head}>{rest.rstrip()}")
        self.y = round(self.y + picture.height_mm + 2, 2)


def _html(made: Preview) -> str:
    return filled_page("preview.html", {"preview": made, "about_marks": _about_marks(made)})


def _pdf(made: Preview, paper: Paper) -> bytes:
    facts = {**asdict(made), "paper": paper.typesetter_name, "about_marks": _about_marks(made)}
    return typeset_document(template_text("preview.typ"), {"facts": json.dumps(facts)}).pdf


def _about_marks(made: Preview) -> str:
    return ABOUT_MARKS if made.placements else ""

"""Draw the README's pictures from the demonstration as it is now.

Run with the test extra installed: python examples/draw_picture.py
"""

from __future__ import annotations

import io
from pathlib import Path

import typst
from PIL import Image

from reedchord import read_collection
from reedchord.demo import PLACED, demo_files
from reedchord.demo_paths import COLLECTION, shipped_path
from reedchord.drawing.diagram import sonority_diagram
from reedchord.drawing.paper import Paper
from reedchord.drawing.templates import template_text
from reedchord.pages.footnotes import footnotes_of
from reedchord.pages.footnotes_pdf import TEMPLATE as FOOTNOTES_TEMPLATE
from reedchord.pages.footnotes_pdf import page_inputs
from reedchord.pages.preview import preview
from reedchord.pages.sheet import meeting_sheet
from reedchord.pages.sheet_print import TEMPLATE as SHEET_TEMPLATE
from reedchord.pages.sheet_print import sheet_inputs

BARS = "3-6"
FINGERED = "baritone-engine-room"
FOOTNOTES = "harbour-lights-footnotes.png"
SHEET = "harbour-lights-sheet.png"
FOLDER = Path(__file__).parent


def footnotes_page(score: bytes) -> bytes:
    """Return the first page of the footnotes of a score, as it is on paper, as PNG."""
    return page_picture(FOOTNOTES_TEMPLATE, page_inputs(footnotes_of(score), Paper.A4), 0)


def sheet_page(score: bytes) -> bytes:
    """Return the page of the sheet of a score on which its second sonority stands, as PNG."""
    collection = read_collection(shipped_path(COLLECTION))
    sheet = meeting_sheet(score, collection=collection)
    return page_picture(SHEET_TEMPLATE, sheet_inputs(sheet, Paper.A4), 2)


def page_picture(template: str, inputs: dict[str, str], number: int) -> bytes:
    """Return a typeset page as PNG of few greys."""
    pages = typst.compile(
        template_text(template).encode("utf-8"),
        format="png",
        ppi=110,
        ignore_system_fonts=True,
        sys_inputs=inputs,
    )
    assert isinstance(pages, list)
    small = io.BytesIO()
    Image.open(io.BytesIO(pages[number])).convert("L").quantize(16).save(
        small, "PNG", optimize=True
    )
    return small.getvalue()


def main() -> None:
    """Write the placed score and the pictures: bars 3 to 6, two pages, a fingering."""
    sonority = read_collection(shipped_path(COLLECTION))[FINGERED]
    diagram = sonority_diagram(sonority).svg
    (FOLDER / f"{FINGERED}.svg").write_text(diagram, "utf-8")
    placed, _ = demo_files()
    (FOLDER / PLACED).write_bytes(placed.data)
    (FOLDER / FOOTNOTES).write_bytes(footnotes_page(placed.data))
    (FOLDER / SHEET).write_bytes(sheet_page(placed.data))
    svg = preview(placed.data, bars=BARS).bars[0].stages[0].pages[0].svg
    white = '<rect width="100%" height="100%" fill="white"/>'
    start = svg.index(">", svg.index("<svg")) + 1
    (FOLDER / "harbour-lights.svg").write_text(svg[:start] + white + svg[start:], "utf-8")


if __name__ == "__main__":
    main()

"""Footnotes as one HTML page with everything in it, for the screen and for A4 and Letter."""

from __future__ import annotations

from reedchord.drawing.diagram import column_diagram
from reedchord.drawing.templates import filled_page
from reedchord.pages.footnotes import (
    ABOUT_DIAGRAMS,
    COLUMN_HEADINGS,
    DIAGRAM_WIDTH_MM,
    HEADING,
    Footnotes,
)
from reedchord.wording import CAUTIONS


def as_html(notes: Footnotes) -> str:
    """Return footnotes as a page that asks for nothing else; cautions at the foot."""
    facts = {
        "notes": notes,
        "heading": HEADING,
        "about_diagrams": ABOUT_DIAGRAMS,
        "column_headings": COLUMN_HEADINGS,
        "diagrams": {n.label: column_diagram(n.sonority, DIAGRAM_WIDTH_MM) for n in notes},
        "cautions": CAUTIONS,
    }
    return filled_page("footnotes.html", facts)

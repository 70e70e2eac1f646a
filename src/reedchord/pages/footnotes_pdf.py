"""Footnotes as a PDF of real text, typeset as a table that breaks over pages."""

from __future__ import annotations

import json
from typing import Any

from reedchord.drawing.diagram import column_diagram
from reedchord.drawing.paper import Paper
from reedchord.drawing.templates import template_text
from reedchord.drawing.typesetting import TypesetDocument, typeset_document
from reedchord.pages.footnotes import (
    ABOUT_DIAGRAMS,
    COLUMN_HEADINGS,
    DIAGRAM_WIDTH_MM,
    HEADING,
    Footnote,
    Footnotes,
)
from reedchord.wording import CAUTIONS

TEMPLATE = "footnotes.typ"
_LONG = 1500
"""Characters of remarks from which an entry may break over pages: about half of one."""


def as_pdf(notes: Footnotes, paper: Paper = Paper.A4) -> TypesetDocument:
    """Return footnotes as a PDF, headings repeated on every page; cautions at the end."""
    return typeset_document(template_text(TEMPLATE), page_inputs(notes, paper))


def page_inputs(notes: Footnotes, paper: Paper) -> dict[str, str]:
    """Return what the template of the pages asks for."""
    facts = {
        "paper": paper.typesetter_name,
        "heading": notes.heading,
        "score_title": notes.score_title,
        "kind": HEADING,
        "guide": f"{notes.guide} {ABOUT_DIAGRAMS}",
        "columns": COLUMN_HEADINGS,
        "label_width_mm": max(13, *(3.6 * len(note.label) + 3 for note in notes)),
        "diagram_width_mm": DIAGRAM_WIDTH_MM,
        "notes": [_facts(note) for note in notes],
        "cautions": CAUTIONS,
    }
    return {"footnotes": json.dumps(facts)}


def _facts(note: Footnote) -> dict[str, Any]:
    diagram = column_diagram(note.sonority, DIAGRAM_WIDTH_MM)
    return {
        "label": note.label,
        "name": note.sonority.label(),
        "saxophone": str(note.sonority.saxophone),
        "fingering": note.fingering,
        "tone_rows": [[vars(tone) for tone in row] for row in note.tone_rows],
        "remarks": note.remarks,
        "is_long": sum(len(words) for _, words in note.remarks) > _LONG,
        "svg": diagram.svg,
        "width_mm": diagram.width_mm,
        "alt": f"{diagram.title}: {diagram.words}",
    }

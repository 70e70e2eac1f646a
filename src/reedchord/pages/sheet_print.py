"""The sheet on paper, as PDF: the content and the order of the web page."""

from __future__ import annotations

import json
from dataclasses import asdict

from reedchord.drawing.paper import Paper
from reedchord.drawing.templates import template_text
from reedchord.drawing.typesetting import TypesetDocument, typeset_document
from reedchord.pages.sheet import MeetingSheet
from reedchord.pages.sheet_options import ABOUT_EASY
from reedchord.trials.trial_fields import OUTCOMES
from reedchord.wording import CAUTIONS

TEMPLATE = "sheet.typ"


def sheet_pdf(sheet: MeetingSheet, paper: Paper = Paper.A4) -> TypesetDocument:
    """Return a sheet as PDF, with what no font could show."""
    return typeset_document(template_text(TEMPLATE), sheet_inputs(sheet, paper))


def sheet_inputs(sheet: MeetingSheet, paper: Paper) -> dict[str, str]:
    """Return what the template asks for."""
    facts = {
        **asdict(sheet),
        "paper": paper.typesetter_name,
        "outcomes": OUTCOMES,
        "about_easy": ABOUT_EASY,
        "cautions": CAUTIONS,
    }
    return {"facts": json.dumps(facts)}

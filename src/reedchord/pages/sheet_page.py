"""The sheet as a web page with everything in it: to read on a tablet, fill in, and print."""

from __future__ import annotations

from reedchord.drawing.templates import filled_page
from reedchord.pages.sheet import MeetingSheet
from reedchord.pages.sheet_options import ABOUT_EASY
from reedchord.trials.trial_fields import OUTCOMES
from reedchord.wording import CAUTIONS


def sheet_page(sheet: MeetingSheet) -> str:
    """Return a sheet as HTML; no request leaves it, and there is no script in it."""
    facts = {
        "sheet": sheet,
        "outcomes": OUTCOMES,
        "about_easy": ABOUT_EASY,
        "cautions": CAUTIONS,
    }
    return filled_page("sheet.html", facts)

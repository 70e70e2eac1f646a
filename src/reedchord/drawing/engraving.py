"""Bars of a score drawn by verovio: SVG pages of a known size on paper."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

from reedchord.errors import RequestError

SVG = "http://www.w3.org/2000/svg"
"""Namespace of the elements of SVG."""
STAFF_UNITS = 720
"""Height of a staff in verovio's units, at its usual size of staff."""
LEFT_MARGIN_UNITS = 150
"""Room at the left for the half of a bar number that hangs over."""

_TALLEST_PAGE = 60_000
_BAR = re.compile(r'<g id="([^"]*)" class="measure"')


@dataclass(frozen=True)
class MusicPaper:
    """What music is drawn on: millimetres; without a height, pages are as high as their music."""

    width_mm: float
    staff_mm: float
    height_mm: float | None = None

    @property
    def unit_mm(self) -> float:
        """Millimetres of one of verovio's units."""
        return self.staff_mm / STAFF_UNITS

    def options(self, *, right_margin_mm: float) -> dict[str, object]:
        """Return verovio's options for it; lengths count in tens of its units."""
        tens = 10 * self.unit_mm
        height = _TALLEST_PAGE if self.height_mm is None else round(self.height_mm / tens)
        return {
            "pageWidth": round(self.width_mm / tens),
            "pageHeight": min(height, _TALLEST_PAGE),
            "pageMarginLeft": LEFT_MARGIN_UNITS // 10,
            "pageMarginRight": round(right_margin_mm / tens),
            "pageMarginTop": 10,
            "pageMarginBottom": 10,
            "adjustPageHeight": True,
            "breaks": "auto",
            "header": "none",
            "footer": "none",
            "svgViewBox": True,
            "xmlIdSeed": 1,  # or two runs would differ
        }


def engraved_pages(
    document: str, first: str, last: str, paper: MusicPaper, *, right_margin_mm: float = 0
) -> list[str]:
    """Draw the bars between two, which are given by their ids, as SVG; the same bytes each time.

    Clef, key, time and transposition at the first bar are those that hold there. Raises
    RequestError where verovio draws nothing of them.
    """
    import verovio

    with _silence():
        toolkit = verovio.toolkit()
        toolkit.setOptions(paper.options(right_margin_mm=right_margin_mm))
        toolkit.setInputFrom("xml")  # left to guess, it takes a long prologue for MEI
        loaded = toolkit.loadData(document) and toolkit.select({"start": first, "end": last})
        if loaded:
            toolkit.redoLayout()
        count = toolkit.getPageCount() if loaded else 0
        pages = [str(toolkit.renderToSVG(page)) for page in range(1, count + 1)]
    drawn = [bar for page in pages for bar in _BAR.findall(page)]
    # A selection that fails leaves the whole score standing.
    if not drawn or (drawn[0], drawn[-1]) != (first, last):
        raise RequestError(
            "engraving.nothing",
            "the engraver draws no bars of this",
            hint="Look whether another program opens the score; these bars may be empty.",
        )
    return pages


@contextmanager
def _silence() -> Iterator[None]:
    """Keep verovio from writing to standard error: what it could not draw is looked at after."""
    import verovio

    verovio.enableLog(verovio.LOG_OFF)
    try:
        yield
    finally:
        verovio.enableLog(verovio.LOG_WARNING)  # its default

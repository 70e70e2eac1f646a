"""The one door to the typesetter: a page description in, the bytes of PDF or PNG out."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

_LACKING = re.compile(r'the text `"(.+?)"` could not be displayed')


def typeset(
    page: str,
    inputs: Mapping[str, str],
    *,
    png: bool = False,
    dots_per_inch: float | None = None,
) -> bytes:
    """Return one page as PDF, else as PNG of this resolution.

    `inputs` are what the page calls `sys.inputs`. Only the fonts that come with the
    typesetter are used, so that every machine gets the same bytes.
    """
    import typst

    made = typst.compile(
        page.encode("utf-8"),
        format="png" if png else "pdf",
        ppi=dots_per_inch,
        ignore_system_fonts=True,
        sys_inputs=dict(inputs),
    )
    assert isinstance(made, bytes)  # one page
    return made


@dataclass(frozen=True)
class TypesetDocument:
    """A PDF, and text that no font could show, empty when all of it is there."""

    pdf: bytes
    not_shown: str


def typeset_document(page: str, inputs: Mapping[str, str]) -> TypesetDocument:
    """Return a PDF of many pages, its text with the reading order that PDF/UA-1 asks for.

    Fonts of the machine help out where those of the typesetter lack a script; what none of
    them has is told, and the document is made all the same.
    """
    import typst

    def made(*, accessible: bool) -> bytes:
        pdf = typst.compile(
            page.encode("utf-8"),
            format="pdf",
            sys_inputs=dict(inputs),
            pdf_standards=["ua-1"] if accessible else [],
        )
        assert isinstance(pdf, bytes)  # a PDF holds all pages
        return pdf

    try:
        return TypesetDocument(made(accessible=True), "")
    except typst.TypstError as error:
        lacking = _LACKING.search(str(error))
        if lacking is None:
            raise
        return TypesetDocument(made(accessible=False), lacking[1])

"""Footnotes in any of their formats, as the bytes of a file."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from reedchord.drawing.paper import Paper
from reedchord.errors import RequestError
from reedchord.file_endings import chosen_format
from reedchord.pages.footnotes import Footnotes
from reedchord.pages.footnotes_html import as_html
from reedchord.pages.footnotes_pdf import as_pdf
from reedchord.pages.footnotes_svg import WIDTH_MM, as_svg
from reedchord.pages.footnotes_text import WIDTH, as_block, as_markdown, as_text
from reedchord.wording import CAUTIONS

_HIGH_MM = 257.0
"""What an A4 page has room for within margins of 20 mm (ISO 216: 297 mm high)."""


class FootnoteFormat(StrEnum):
    """How footnotes are written."""

    TEXT = "text"
    MARKDOWN = "markdown"
    HTML = "html"
    PDF = "pdf"
    SVG = "svg"
    BLOCK = "block"


_ENDINGS = {
    ".txt": (FootnoteFormat.TEXT, FootnoteFormat.BLOCK, FootnoteFormat.MARKDOWN),
    ".md": (FootnoteFormat.MARKDOWN,),
    ".markdown": (FootnoteFormat.MARKDOWN,),
    ".html": (FootnoteFormat.HTML,),
    ".htm": (FootnoteFormat.HTML,),
    ".pdf": (FootnoteFormat.PDF,),
    ".svg": (FootnoteFormat.SVG,),
}
_NO_CAUTIONS = f"players should also read: {CAUTIONS[0]} {CAUTIONS[1]}"


@dataclass(frozen=True)
class FootnoteOptions:
    """What only some formats have; None is what is usual."""

    paper: Paper = Paper.A4
    width_characters: int | None = None
    width_mm: float | None = None


@dataclass(frozen=True)
class FootnoteFile:
    """Footnotes as bytes, and sentences on what to look at."""

    data: bytes
    remarks: tuple[str, ...] = ()


def footnote_format(name: str | None, out: Path | None) -> FootnoteFormat:
    """Return the format that was named, else that of the file's ending, else text.

    Raises RequestError for an unknown format, and for a name and an ending that differ.
    """
    chosen = chosen_format(name, out, FootnoteFormat, _ENDINGS, "footnotes")
    return chosen or FootnoteFormat.TEXT


def footnote_file(
    notes: Footnotes, form: FootnoteFormat, options: FootnoteOptions | None = None
) -> FootnoteFile:
    """Return footnotes in this format.

    Raises RequestError for an option that the format has not, and for lines or blocks that
    cannot hold the words.
    """
    options = options or FootnoteOptions()
    _refuse_idle(options, form)
    if form is FootnoteFormat.PDF:
        return _pdf(notes, options.paper)
    if form is FootnoteFormat.SVG:
        return _svg(notes, options.width_mm or WIDTH_MM)
    if form is FootnoteFormat.TEXT:
        text = as_text(notes, options.width_characters or WIDTH)
    elif form is FootnoteFormat.BLOCK:
        text = as_block(notes, options.width_characters)
    else:
        text = as_html(notes) if form is FootnoteFormat.HTML else as_markdown(notes)
    remarks = (_NO_CAUTIONS,) if form is FootnoteFormat.BLOCK else ()
    return FootnoteFile(text.encode("utf-8"), remarks)


def _refuse_idle(options: FootnoteOptions, form: FootnoteFormat) -> None:
    table = [
        ("--width", options.width_characters, [FootnoteFormat.TEXT, FootnoteFormat.BLOCK]),
        ("--width-mm", options.width_mm, [FootnoteFormat.SVG]),
    ]
    for option, given, forms in table:
        if given is not None and form not in forms:
            raise RequestError(
                "footnotes.option",
                f"{option} is for the format {' or '.join(forms)}, not for {form}",
                hint=f"Leave {option} out, or write another format.",
            )


def _pdf(notes: Footnotes, paper: Paper) -> FootnoteFile:
    made = as_pdf(notes, paper)
    lacking = f"no font here can show {made.not_shown!r}: look at it in the PDF"
    return FootnoteFile(made.pdf, (lacking,) if made.not_shown else ())


def _svg(notes: Footnotes, width_mm: float) -> FootnoteFile:
    block = as_svg(notes, width_mm)
    remarks = [_NO_CAUTIONS]
    if block.height_mm > _HIGH_MM:
        remarks.append(f"the block is {block.height_mm:g} mm high; a PDF breaks over pages")
    return FootnoteFile(block.svg.encode("utf-8"), tuple(remarks))

"""A sheet as the bytes of a file: a web page or PDF."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from reedchord.drawing.paper import Paper
from reedchord.file_endings import endings_named, format_by_ending
from reedchord.pages.sheet import MeetingSheet
from reedchord.pages.sheet_page import sheet_page
from reedchord.pages.sheet_print import sheet_pdf


class SheetFormat(StrEnum):
    """A file format for sheets, named like its suffix."""

    HTML = "html"
    PDF = "pdf"


@dataclass(frozen=True)
class SheetFile:
    """The bytes of a sheet, and text that no font could show."""

    data: bytes
    not_shown: str = ""


def sheet_format(path: Path) -> SheetFormat:
    """Return the format that a file's ending tells; raises RequestError for any other."""
    return format_by_ending(path, endings_named(SheetFormat), "a sheet")


def sheet_bytes(sheet: MeetingSheet, kind: SheetFormat, paper: Paper = Paper.A4) -> SheetFile:
    """Return a sheet as the bytes of a file; `paper` counts for PDF."""
    if kind is SheetFormat.HTML:
        return SheetFile(sheet_page(sheet).encode("utf-8"))
    made = sheet_pdf(sheet, paper)
    return SheetFile(made.pdf, made.not_shown)

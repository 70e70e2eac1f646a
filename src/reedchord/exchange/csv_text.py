"""Bytes of a spreadsheet saved as text into rows of cells: encoding and separator are found."""

from __future__ import annotations

import codecs
import csv
import io
import re
from dataclasses import dataclass

from reedchord.errors import InputError, Where

DELIMITERS = {",": "comma", ";": "semicolon", "\t": "tab", "|": "vertical bar"}
_LOOKED_AT = 20
_SAID = re.compile(
    rf"sep=(?P<delimiter>[{re.escape(''.join(DELIMITERS))}])(?=[\r\n])", re.IGNORECASE
)
"""A first line in which some spreadsheets tell the delimiter; what is left of it is empty."""

_WORKBOOKS = (b"PK\x03\x04", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1")
"""How workbooks begin: a ZIP archive (APPNOTE 4.3.7), or a compound file (MS-CFB 2.2)."""


@dataclass(frozen=True)
class CsvRow:
    """One row of cells and the line on which it starts."""

    line: int
    cells: tuple[str, ...]


@dataclass(frozen=True)
class CsvTable:
    """A spreadsheet as text: headings and rows, and how it was read.

    Rows with more cells than there are headings are not among them, but among the `mistakes`.
    """

    encoding: str
    delimiter: str
    headings: tuple[str, ...]
    heading_line: int
    rows: tuple[CsvRow, ...]
    mistakes: tuple[InputError, ...]


def read_csv(data: bytes, file: str) -> CsvTable:
    """Read delimited text (RFC 4180, any of four delimiters); raises InputError with the line.

    Headings stand in the first row that is not empty; empty rows are passed over.
    """
    if data.startswith(_WORKBOOKS):
        raise InputError(
            "csv.workbook",
            "this is a workbook as a spreadsheet program keeps it, not its text",
            hint="Save its sheet as CSV there, and import that.",
            where=Where(path=file),
        )
    encoding, text = _decoded(data)
    if "\0" in text:
        raise InputError(
            "csv.no-text",
            "this is no text: there are zero bytes in it",
            hint="A spreadsheet is imported as CSV.",
            where=Where(path=file),
        )
    said = _SAID.match(text)
    delimiter = said["delimiter"] if said else _delimiter(text)
    text = text[said.end() :] if said else text
    rows = [row for row in _rows(text, delimiter, file) if any(row.cells)]
    if not rows:
        raise InputError("csv.empty", "there is nothing in it", where=Where(path=file))
    head, *body = rows
    if len(head.cells) < 2:
        raise InputError(
            "csv.one-column",
            "this is no table: its first row has only one cell",
            hint=f"Columns are separated by one of: {', '.join(DELIMITERS.values())}.",
            where=Where(path=file, line=head.line),
        )
    width = len(head.cells)
    good = tuple(row for row in body if not any(row.cells[width:]))
    mistakes = tuple(_too_wide(row, width, file) for row in body if any(row.cells[width:]))
    return CsvTable(encoding, delimiter, head.cells, head.line, good, mistakes)


_MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig", "UTF-8 with a byte order mark"),
    (codecs.BOM_UTF16_LE, "utf-16", "UTF-16"),
    (codecs.BOM_UTF16_BE, "utf-16", "UTF-16"),
)


def _decoded(data: bytes) -> tuple[str, str]:
    """Return which encoding was taken, and the text; the last one reads whatever else there is."""
    for mark, codec, name in _MARKS:
        if data.startswith(mark):
            try:
                return name, data.decode(codec)
            except UnicodeDecodeError:
                break
    if data.count(0) > len(data) // 4:
        little = data[1::2].count(0) >= data[::2].count(0)
        return "UTF-16", data.decode("utf-16-le" if little else "utf-16-be", "replace")
    for codec, name in (("utf-8", "UTF-8"), ("cp1252", "Windows-1252")):
        try:
            return name, data.decode(codec)
        except UnicodeDecodeError:
            continue
    return "Latin-1", data.decode("latin-1")


def _delimiter(text: str) -> str:
    """Return the delimiter by which most of the first rows have as many cells as the first."""

    def fitness(delimiter: str) -> tuple[int, int]:
        try:
            rows = [row for row in _rows(text, delimiter, "", _LOOKED_AT) if any(row.cells)]
        except InputError:
            return 0, 0
        width = len(rows[0].cells) if rows else 0
        return (sum(len(row.cells) == width for row in rows), width) if width > 1 else (0, 0)

    return max(DELIMITERS, key=fitness)


def _rows(text: str, delimiter: str, file: str, most: int | None = None) -> list[CsvRow]:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    rows: list[CsvRow] = []
    line = 1
    try:
        for cells in reader:
            rows.append(CsvRow(line, tuple(cell.strip() for cell in cells)))
            line = reader.line_num + 1
            if len(rows) == most:
                break
    except csv.Error as error:
        raise InputError(
            "csv.broken",
            f"the table breaks off here: {error}",
            hint="Look at the quotation marks: one inside of a cell is written twice.",
            where=Where(path=file, line=line),
        ) from None
    return rows


def _too_wide(row: CsvRow, width: int, file: str) -> InputError:
    return InputError(
        "csv.width",
        f"the row has {len(row.cells)} cells, but there are {width} headings",
        hint="A cell with the separator in it stands in quotation marks.",
        where=Where(path=file, line=row.line, column=width + 1),
    )

"""One row of a spreadsheet as the plain data of a record, with the cell of every field."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from reedchord.data_text import Path
from reedchord.errors import ReedchordError, Where
from reedchord.exchange.cells import cell_data
from reedchord.exchange.columns import RECORD_FIELDS, SOURCE_FIELDS, Column
from reedchord.saxophones import FAMILY

_SAXOPHONES = {
    "sopranino": "sopraninosaxophon, sopraninosaxofon, saxophone sopranino",
    "soprano": "sopran, sopransaxophon, sopransaxofon, saxophone soprano",
    "alto": "alt, altsaxophon, altsaxofon, saxophone alto",
    "C melody": "c-melody, c-melody-saxophon",
    "tenor": "tenorsaxophon, tenorsaxofon, ténor, saxophone ténor, saxophone tenor",
    "baritone": "bariton, baritonsaxophon, baritonsaxofon, baryton, saxophone baryton",
    "bass": "basssaxophon, basssaxofon, basse, saxophone basse",
    "contrabass": "kontrabass, kontrabasssaxophon, contrebasse, saxophone contrebasse",
}
_SAXOPHONES_BY_WORD = {name.casefold(): name for name in FAMILY} | {
    word.strip(): member for member, words in _SAXOPHONES.items() for word in words.split(",")
}
DEFAULT_ARTICULATION = "single tongue"


@dataclass(frozen=True)
class Cell:
    """The text of a cell and its place: `column` counts from 1, None for a constant."""

    text: str
    column: int | None


@dataclass
class RowRecord:
    """The plain data of one row: a record, its source where the row describes it."""

    line: int
    data: dict[str, Any] = field(default_factory=dict)
    source: dict[str, Any] = field(default_factory=dict)
    places: dict[Path, Cell] = field(default_factory=dict)
    errors: list[ReedchordError] = field(default_factory=list)
    guesses: set[str] = field(default_factory=set)

    def where(self, cell: Cell | None) -> Where:
        """Return the place of a cell, or of the row where the cell is a constant."""
        return Where(line=self.line, column=cell.column if cell else None)


def row_record(line: int, cells: dict[Column, Cell], separator: str | None) -> RowRecord:
    """Return the record of a row; what cannot be read stands in its errors."""
    row = RowRecord(line)
    for column, cell in cells.items():
        if column.field in RECORD_FIELDS and column.field not in ("page", "number"):
            _put(row, (column.field,), column.field, cell)
    _put_saxophone(row, cells)
    _put_tones(row, cells, separator)
    _put_speed(row, cells)
    _put_source(row, cells)
    if "evidence" not in row.data and "source" in row.data:
        row.data["evidence"] = "documented"
        row.guesses.add("evidence: documented, where a source is given and nothing else said")
    return row


def _put(row: RowRecord, path: Path, kind: str, cell: Cell) -> None:
    """Read a cell into the record; the path leads to the field."""
    try:
        read = cell_data(kind, cell.text)
    except ReedchordError as error:
        row.errors.append(_at(error, row, cell))
        return
    target: Any = row.data
    for key in path[:-1]:
        target = target[key]
    target[path[-1]] = read
    row.places[path] = cell


def _at(error: ReedchordError, row: RowRecord, cell: Cell) -> ReedchordError:
    return error.at(row.where(cell))


def _put_saxophone(row: RowRecord, cells: dict[Column, Cell]) -> None:
    """Put the member's own name for German and French ones; the record refuses others."""
    cell = cells.get(Column("saxophone"))
    if cell is not None:
        word = " ".join(cell.text.casefold().split())
        row.data["saxophone"] = _SAXOPHONES_BY_WORD.get(word, cell.text)


def _put_tones(row: RowRecord, cells: dict[Column, Cell], separator: str | None) -> None:
    """Read numbered tone columns, and cells with several tones in them."""
    parts: dict[int, dict[str, Cell]] = {}
    for column, cell in cells.items():
        for number, name, text in _tone_parts(column, cell.text, separator):
            parts.setdefault(number, {})[name] = Cell(text, cell.column)
    tones: list[dict[str, Any]] = []
    row.data["tones"] = tones
    for _, named in sorted(parts.items()):
        path: Path = ("tones", len(tones))
        tones.append({})
        row.places[path] = next(iter(named.values()))
        row.places.setdefault(("tones",), row.places[path])
        cents = named.pop("cents", None)
        for kind in ("written", "concert"):
            if kind in named:
                _put(row, (*path, kind), kind, _with_cents(named[kind], cents))
                cents = None
        if "presence" in named:
            _put(row, (*path, "presence"), "presence", named["presence"])


def _tone_parts(column: Column, text: str, separator: str | None) -> Iterator[tuple[int, str, str]]:
    if column.field not in ("written", "concert", "cents", "presence"):
        return
    if column.field != "presence":
        text = text.replace("–", "-")  # what spreadsheets like to make of a minus
    if column.tone is not None:
        yield column.tone, column.field, text
        return
    split = _split_cents if column.field == "cents" else split_pitches
    if column.field == "presence" and separator is None:
        separator = "/"
    parts = text.split(separator) if separator else split(text)
    for number, part in enumerate(parts, start=1):
        if part.strip():
            yield number, column.field, part.strip()


_NEXT_PITCH = re.compile(r"\s+(?=[^\W\d]\S*[0-9])")
"""Before a word that starts with a letter and holds an octave, but not before `flat 4`."""


def split_pitches(text: str) -> list[str]:
    """Split pitches at signs between them, but not at a decimal comma, else at spaces."""
    if re.search(r"[;/|\n]|,(?![0-9])", text):
        return re.split(r"[;/|\n]|,(?![0-9])", text)
    return _NEXT_PITCH.split(text)


def _split_cents(text: str) -> list[str]:
    return re.split(r"[;/|\n]|,(?![0-9])|\s+(?=[-+−0-9])", text)


_DECIMAL_COMMA = re.compile(r"(?<=[0-9]),(?=[0-9])")


def _with_cents(pitch: Cell, cents: Cell | None) -> Cell:
    """Return a pitch with the cents that stand in a cell of their own, decimals with a point."""
    text = _DECIMAL_COMMA.sub(".", pitch.text)
    if cents is None:
        return Cell(text, pitch.column)
    more = _DECIMAL_COMMA.sub(".", re.sub(r"\s*(¢|cents?|ct)$", "", cents.text.strip()))
    more = more.replace(" ", "")
    if re.fullmatch(r"[+\-−]?0*(\.0*)?", more):
        return Cell(text, pitch.column)
    sign = "" if more[:1] in ("+", "-", "−") else "+"
    return Cell(f"{text}{sign}{more}", cents.column)


def _put_speed(row: RowRecord, cells: dict[Column, Cell]) -> None:
    """Read a single limit that stands in columns of its own."""
    fastest = cells.get(Column("fastest"))
    if fastest is None:
        return
    way = cells.get(Column("articulation"))
    if way is None:
        row.guesses.add(f"articulation of speeds: {DEFAULT_ARTICULATION}, none is named")
    limits = row.data.setdefault("limits", [])
    limits.append({"articulation": way.text if way else DEFAULT_ARTICULATION})
    path: Path = ("limits", len(limits) - 1)
    _put(row, (*path, "fastest"), "fastest", fastest)
    if way:
        row.places[(*path, "articulation")] = way


def _put_source(row: RowRecord, cells: dict[Column, Cell]) -> None:
    """Read the citation, and the source that it points into where the row describes it."""
    for name in SOURCE_FIELDS:
        cell = cells.get(Column(f"source {name}"))
        if cell is None:
            continue
        try:
            row.source[name] = cell_data(f"source {name}", cell.text)
            row.places["entry", name] = cell
        except ReedchordError as error:
            row.errors.append(_at(error, row, cell))
    free = cells.get(Column("source"))
    if free is not None and "title" not in row.source:
        row.source["title"] = free.text
        row.places["entry", "title"] = free
    if not row.source:
        return
    row.data["source"] = {}
    for name in ("page", "number"):
        if Column(name) in cells:
            _put(row, ("source", name), name, cells[Column(name)])

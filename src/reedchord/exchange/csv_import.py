"""A spreadsheet saved as text becomes a collection: whole, or not at all."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from reedchord.collection import SUFFIXES, Collection
from reedchord.collection_reading import parse_collection
from reedchord.data_text import DataText
from reedchord.data_text import Path as FieldPath
from reedchord.errors import InputError, ReedchordError, Where, raise_all
from reedchord.exchange.collection_text import collection_data, json_text, yaml_text
from reedchord.exchange.columns import IGNORED, Column, column_of, named_column
from reedchord.exchange.csv_mapping import MappingFile, constants_of
from reedchord.exchange.csv_rows import Cell, RowRecord, row_record
from reedchord.exchange.csv_text import DELIMITERS, CsvRow, CsvTable, read_csv
from reedchord.exchange.new_ids import free_id, kebab
from reedchord.saxophones import FAMILY
from reedchord.sonority import Sonority
from reedchord.source import Source
from reedchord.validation import validated

DEFAULT_SOURCE_TYPE = "document"
_ORDER = tuple(Sonority.model_fields)


@dataclass(frozen=True)
class ImportedCsv:
    """A collection made from a spreadsheet, as checked and as YAML (or JSON) text.

    `notes` tell how the spreadsheet was read and what was guessed, `skipped` what is wrong
    with the rows that were left out on request.
    """

    collection: Collection
    text: str
    notes: tuple[str, ...]
    skipped: tuple[ReedchordError, ...]


@dataclass
class _Gathered:
    """Records and sources so far, with the line where each was first seen."""

    file: str
    sonorities: list[dict[str, Any]] = field(default_factory=list)
    sources: dict[str, dict[str, Any]] = field(default_factory=dict)
    lines: dict[str, int] = field(default_factory=dict)
    cited: dict[str, RowRecord] = field(default_factory=dict)
    guesses: dict[str, None] = field(default_factory=dict)
    errors: list[ReedchordError] = field(default_factory=list)


def import_csv(
    data: bytes,
    file: str,
    *,
    mapping: MappingFile | None = None,
    settings: Mapping[str, str] | None = None,
    skip_bad: bool = False,
    out: str = "collection.yaml",
) -> ImportedCsv:
    """Read a spreadsheet as a collection.

    `settings` are fields that hold for every row that says nothing else, by our headings; they
    go before the mapping's constants. Raises InputError or SeveralErrors, every mistake with
    line and column, unless `skip_bad` leaves such rows out. `out` is what the collection will be
    called, in messages too; .json at its end counts.
    """
    if file.casefold().endswith(SUFFIXES):
        raise InputError(
            "csv.collection",
            "this is no spreadsheet",
            hint="Where it is a collection, nothing must be imported: name it as it is.",
            where=Where(path=file),
        )
    table = read_csv(data, file)
    notes = [f"read as {table.encoding}, cells separated by {DELIMITERS[table.delimiter]}"]
    columns, guesses = _columns(table, mapping, file)
    constants = constants_of({**(mapping.constants if mapping else {}), **(settings or {})})
    lacking = _lacking({*columns.values(), *constants}, table, file)
    raise_all([*lacking, *table.mistakes] if lacking else [])
    found = _Gathered(file, guesses=dict.fromkeys(guesses))
    separator = mapping.separator if mapping else None
    rows = [row_record(row.line, _cells(row, columns, constants), separator) for row in table.rows]
    _gather(found, rows)
    found.errors = sorted((*found.errors, *table.mistakes), key=lambda one: one.where.line or 0)
    if not skip_bad or not found.sonorities:
        raise_all(found.errors)
    notes += [f"guessed: {guess}" for guess in found.guesses]
    comments = [f"Imported from {file}.", *(f"{note[:1].upper()}{note[1:]}" for note in notes)]
    whole = collection_data(found.sources.values(), found.sonorities)
    text = json_text(whole) if out.casefold().endswith(".json") else yaml_text(whole, comments)
    read_back = parse_collection(text, out)
    return ImportedCsv(read_back, text, tuple(notes), tuple(found.errors))


def _columns(
    table: CsvTable, mapping: MappingFile | None, file: str
) -> tuple[dict[int, Column], list[str]]:
    """Return what each column holds, and sentences on what was guessed."""
    columns: dict[int, Column] = {}
    guesses, errors = [], []
    mapped = dict(mapping.columns) if mapping else {}
    for index, heading in enumerate(table.headings):
        said = mapped.pop(heading, None)
        column = named_column(said) if said is not None else column_of(heading)
        place = f"column {index + 1}, {heading!r}"
        if column is None and heading:
            guesses.append(f"{place}, is left out: its heading says nothing to this program")
        if column is None or column.field == IGNORED:
            continue
        if said is None and column.heading != heading:
            guesses.append(f"{place}, holds: {column.heading}")
        if column in columns.values():
            errors.append(_twice(table, index, columns, column, file))
        columns[index] = column
    errors += [_no_column(heading, table, file) for heading in mapped]
    raise_all(errors)
    return columns, guesses


def _twice(
    table: CsvTable, index: int, columns: dict[int, Column], column: Column, file: str
) -> ReedchordError:
    first = next(number for number, known in columns.items() if known == column)
    return InputError(
        "csv.column-twice",
        f"{table.headings[index]!r} and {table.headings[first]!r} (column {first + 1}) both hold "
        f"{column.heading}",
        hint="Say in a mapping what each holds; 'ignore' leaves one out.",
        where=Where(path=file, line=table.heading_line, column=index + 1),
    )


def _no_column(heading: str, table: CsvTable, file: str) -> ReedchordError:
    shown = ", ".join(filter(None, table.headings))
    return InputError(
        "csv.no-column",
        f"there is no column {heading!r}, which the mapping names",
        hint=f"The headings are: {shown}.",
        where=Where(path=file, line=table.heading_line),
    )


def _lacking(known: set[Column], table: CsvTable, file: str) -> list[ReedchordError]:
    """Return an error for a table without the columns that every record needs."""
    fields = {column.field for column in known}
    lacking: dict[str, tuple[str, ...]] = {
        name: (name,) for name in ("saxophone", "fingering") if name not in fields
    }
    if not fields & {"written", "concert"}:
        lacking["written or concert pitches"] = ("written", "concert", "tone 1 written")
    if not any(field.startswith(("evidence", "source")) for field in fields):
        lacking["evidence or source"] = ("evidence", "source")
    if not lacking:
        return []
    example = "saxophone=alto" if "saxophone" in lacking else 'source="My practice log"'
    known_headings = [heading for headings in lacking.values() for heading in headings]
    error = InputError(
        "csv.lacking",
        f"no column holds: {', '.join(lacking)}",
        hint="Name the columns in a mapping, or say what holds for all rows: "
        f"--set {example}. Headings known: {', '.join(known_headings)}, …",
        where=Where(path=file, line=table.heading_line),
    )
    return [error]


def _cells(
    row: CsvRow, columns: dict[int, Column], constants: dict[Column, str]
) -> dict[Column, Cell]:
    cells = {column: Cell(text, None) for column, text in constants.items()}
    for index, column in columns.items():
        text = row.cells[index] if index < len(row.cells) else ""
        if text:
            cells[column] = Cell(text, index + 1)
    return cells


def _gather(found: _Gathered, rows: Iterable[RowRecord]) -> None:
    every = list(rows)
    taken = {row.data["id"] for row in every if "id" in row.data}
    described: dict[str, int] = {}
    for row in every:
        _identify(row, taken, found)
        errors = list(row.errors)
        source = _source(row, found, described, errors)
        sonority = validated(Sonority, _document(row, row.data, ()), (), found.file, errors)
        if errors or sonority is None:
            found.errors += [_placed(error, row, found.file) for error in errors]
            continue
        if source is not None:
            found.sources.setdefault(source["id"], source)
        found.sonorities.append({name: row.data[name] for name in _ORDER if name in row.data})
        found.guesses |= dict.fromkeys(sorted(row.guesses))
    _check_described(found)


def _identify(row: RowRecord, taken: set[str], found: _Gathered) -> None:
    """Give a record without an id one of its own; refuse an id that another row has."""
    if "id" not in row.data:
        words = row.data.get("name") or f"{row.data.get('saxophone')} {row.line}"
        new = free_id(kebab(words) or f"line-{row.line}", taken)
        row.data["id"] = new
        taken.add(new)
        found.guesses["ids: made from names"] = None
    first = found.lines.setdefault(row.data["id"], row.line)
    if first != row.line:
        message = f"the id {row.data['id']!r} stands on line {first} already"
        error = InputError("collection.twice", message, hint="Give each record an id of its own.")
        row.errors.append(error.at(row.where(row.places.get(("id",)))))


def _source(
    row: RowRecord,
    found: _Gathered,
    described: dict[str, int],
    errors: list[ReedchordError],
) -> dict[str, Any] | None:
    """Complete the citation of a row; return its source where the row describes it."""
    if "source" not in row.data:
        return None
    given = row.source
    name = given.get("id") or kebab(str(given.get("title", ""))) or "source"
    row.data["source"] = {"id": name, **row.data["source"]}
    if "id" in given:
        row.places["source", "id"] = row.places["entry", "id"]
    else:
        row.guesses.add("ids of sources: made from titles")
    if set(given) <= {"id"}:
        found.cited.setdefault(name, row)
        return None
    if "type" not in given:
        row.guesses.add(f"type of sources: {DEFAULT_SOURCE_TYPE}, none is named")
    source = {"id": name, "type": DEFAULT_SOURCE_TYPE, **given}
    validated(Source, _document(row, source, ("entry",)), (), found.file, errors)
    known = found.sources.get(name)
    described.setdefault(name, row.line)
    if known is not None and known != source:
        errors.append(_described_otherwise(row, name, known, source, described[name]))
    return source


def _described_otherwise(
    row: RowRecord, name: str, known: dict[str, Any], source: dict[str, Any], first: int
) -> ReedchordError:
    other = next(key for key in (*source, *known) if source.get(key) != known.get(key))
    return InputError(
        "source.otherwise",
        f"the source {name!r} has another {other} here than on line {first}",
        hint="Describe a source alike in all rows, or in its first one only.",
        where=row.where(row.places.get(("entry", other))),
    )


def _check_described(found: _Gathered) -> None:
    for name, row in found.cited.items():
        if name not in found.sources:
            error = InputError(
                "source.unknown",
                f"the source {name!r} is named, but no row says what it is",
                hint="Add a column 'source title', or say it for all rows: "
                '--set "source title=Practice log".',
                where=row.where(row.places.get(("source", "id"))),
            )
            found.errors.append(_placed(error, row, found.file))
            found.sonorities = [
                record for record in found.sonorities if record.get("source", {}).get("id") != name
            ]


def _document(row: RowRecord, data: dict[str, Any], above: FieldPath) -> DataText:
    """Return a row's data with the cell of every field; 0 is the column of a constant."""
    positions: dict[FieldPath, tuple[int, int]] = {(): (row.line, 0)}
    for path, cell in row.places.items():
        if path[: len(above)] == above:
            positions[path[len(above) :]] = row.line, cell.column or 0
    return DataText(data, positions)


def _placed(error: ReedchordError, row: RowRecord, file: str) -> ReedchordError:
    """Return an error with file and line; the family is listed for an unknown saxophone."""
    error.where = error.where._replace(column=error.where.column or None)
    error.at(Where(path=file, line=row.line))
    if error.code == "saxophone.unknown":
        error.hint = f"There are: {', '.join(FAMILY)}."
    return error

"""A collection as a spreadsheet that `csv_import` reads back as equal records."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from typing import Any

from reedchord.collection import Collection
from reedchord.exchange.cells import cell_text
from reedchord.exchange.collection_text import sonority_data, source_data
from reedchord.exchange.columns import RECORD_FIELDS, SOURCE_FIELDS, TONE_FIELDS, Column
from reedchord.sonority import Sonority


def csv_text(collection: Collection) -> str:
    """Return all records as comma-separated text (RFC 4180), a row for each.

    Each row describes its source whole; sources that no record cites are left out. Columns
    that no record fills are left out too.
    """
    rows = [_cells(sonority) for sonority in collection]
    used = {column for row in rows for column in row}
    columns = [column for column in _order(collection) if column in used]
    stream = io.StringIO(newline="")
    writer = csv.writer(stream)
    writer.writerow([column.heading for column in columns])
    writer.writerows([[row.get(column, "") for column in columns] for row in rows])
    return stream.getvalue()


def _order(collection: Collection) -> Iterator[Column]:
    """Yield every column in the order of the sheet: the tones behind the fingering."""
    for name in RECORD_FIELDS:
        yield Column(name)
        if name == "fingering":
            most = max((len(sonority.tones) for sonority in collection), default=0)
            for number in range(1, most + 1):
                yield from (Column(kind, number) for kind in TONE_FIELDS)
    yield from (Column(f"source {name}") for name in SOURCE_FIELDS)


def _cells(sonority: Sonority) -> dict[Column, str]:
    data = sonority_data(sonority)
    citation = data.pop("source", {})
    cells: dict[Column, str] = {}
    for number, tone in enumerate(data.pop("tones"), start=1):
        cells |= {Column(kind, number): cell_text(kind, part) for kind, part in tone.items()}
    cells |= {Column(name): cell_text(name, part) for name, part in data.items()}
    cells |= {Column(name): citation[name] for name in ("page", "number") if name in citation}
    if sonority.source:
        entry = sonority.source.entry
        described: dict[str, Any] = source_data(entry) if entry else {"id": citation["id"]}
        cells |= {
            Column(f"source {name}"): cell_text(f"source {name}", part)
            for name, part in described.items()
        }
    return cells

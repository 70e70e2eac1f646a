"""JSON text into plain data that remembers the line of every field."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import Any

from reedchord.data_text import MAX_DEPTH, DataText, Path, named_twice, too_deep
from reedchord.errors import InputError, Where

_TOKEN = re.compile(r'"(?:[^"\\]|\\.)*"|[\[\]{}:,]|[^\s"\[\]{}:,]+')


def read_json(text: str, file: str) -> DataText:
    """Read JSON (RFC 8259); raises InputError with the place, also for a name given twice."""
    return DataText(_loaded(text, file), _positions(text, file))


def _loaded(text: str, file: str) -> Any:
    def refuse_constant(name: str) -> None:
        raise InputError("json.constant", f"{name} is no JSON number", where=Where(path=file))

    try:
        return json.loads(text, parse_constant=refuse_constant)
    except json.JSONDecodeError as error:
        raise InputError(
            "json.broken",
            f"the JSON breaks off here: {error.msg}",
            hint="Look at commas, quotes and brackets here and just before.",
            where=Where(path=file, line=error.lineno, column=error.colno),
        ) from None
    except RecursionError:
        raise too_deep(file) from None
    except ValueError:
        # The only other refusal of json.loads: an integer with thousands of digits.
        raise InputError("json.number", "a number is too long", where=Where(path=file)) from None


def _positions(text: str, file: str) -> dict[Path, tuple[int, int]]:
    """Return where everything stands in a text that is known to be JSON."""
    positions: dict[Path, tuple[int, int]] = {}
    path: list[str | int] = []
    at_key = False
    for token, line, column in _tokens(text):
        if token in "]}":
            path.pop()
        elif token == ",":
            at_key = isinstance(path[-1], str)
            if not at_key:
                path[-1] = int(path[-1]) + 1
        elif token == ":":
            at_key = False
        elif at_key:
            path[-1] = json.loads(token)
            if tuple(path) in positions:
                place = Where(path=file, line=line, column=column)
                raise named_twice(str(path[-1]), place)
            positions[tuple(path)] = line, column
        else:
            positions.setdefault(tuple(path), (line, column))
            if token in "[{":
                path.append(0 if token == "[" else "")
                at_key = token == "{"
                if len(path) > MAX_DEPTH:
                    raise too_deep(file)
    return positions


def _tokens(text: str) -> Iterator[tuple[str, int, int]]:
    line, line_start, counted = 1, 0, 0
    for match in _TOKEN.finditer(text):
        breaks = text.count("\n", counted, match.start())
        if breaks:
            line += breaks
            line_start = text.rindex("\n", counted, match.start()) + 1
        counted = match.start()
        yield match[0], line, match.start() - line_start + 1

"""Fields that have parts of their own as text in one cell of a spreadsheet, and back.

Friendly text where it reads back as the same, else JSON. The plain data are those of our files.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from reedchord.dynamics import SCALE, DynamicRange, parse_dynamic_range
from reedchord.errors import InputError, ReedchordError


@dataclass(frozen=True)
class CellForm:
    """How one kind of field is written and read; `example` is shown where it is misread."""

    write: Callable[[Any], str]
    read: Callable[[str], Any]
    example: str
    has_parts: bool = True
    """Whether JSON stands for what is too odd for friendly text."""


def cell_text(field: str, plain: Any) -> str:
    """Return a field's plain data as the text of a cell."""
    form = FORMS.get(field)
    if form is None or not form.has_parts:
        return str(plain)
    try:
        friendly = form.write(plain)
        if cell_data(field, friendly) == plain:
            return friendly
    except (ReedchordError, KeyError, TypeError, ValueError):
        pass  # an odd field, such as a name with a semicolon in it
    return json.dumps(plain, ensure_ascii=False)


def cell_data(field: str, text: str) -> Any:
    """Return the plain data in a cell; raises InputError with what would be right."""
    form = FORMS.get(field)
    if form is None:
        return text
    if form.has_parts and text[:1] in ("[", "{"):
        try:
            return json.loads(text)
        except ValueError:
            raise _misread(field, text, form) from None
    try:
        return form.read(text)
    except (KeyError, ValueError):
        raise _misread(field, text, form) from None


def _misread(field: str, text: str, form: CellForm) -> InputError:
    return InputError(
        "cell.text", f"{text!r} cannot be read as {field}", hint=f"Write {form.example}"
    )


def presence_by_range(plain: dict[str, str]) -> dict[str, str]:
    """Return presence with neighbouring marks of one word drawn together: `{mp-f: clear}`."""
    spread = {m: word for marks, word in plain.items() for m in parse_dynamic_range(marks).marks()}
    said = [(mark, spread.get(mark)) for mark in SCALE]
    runs = [(word, [mark for mark, _ in run]) for word, run in groupby(said, lambda one: one[1])]
    return {str(DynamicRange(run[0], run[-1])): word for word, run in runs if word}


def _write_presence(plain: dict[str, str]) -> str:
    return ", ".join(f"{marks} {word}" for marks, word in presence_by_range(plain).items())


def _read_presence(text: str) -> dict[str, str]:
    spread: dict[str, str] = {}
    for part in _parts(",", text):
        marks, word = re.split(r"[\s:]+(?=\S+$)", part)
        for mark in parse_dynamic_range(marks).marks():
            if mark in spread:
                raise InputError("presence.twice", f"the presence at {mark} is given twice")
            spread[str(mark)] = word
    return spread


def _write_limits(plain: list[dict[str, str]]) -> str:
    return "; ".join(
        f"{one['articulation']}: {one['fastest']}"
        + (f", {one['dynamics']}" if "dynamics" in one else "")
        for one in plain
    )


def _read_limits(text: str) -> list[dict[str, str]]:
    return [_limit(part) for part in _parts(";", text)]


def _limit(text: str) -> dict[str, str]:
    articulation, speed = text.split(":", 1)
    fastest, *dynamics = (part.strip() for part in speed.split(","))
    limit = {"articulation": articulation.strip(), "fastest": fastest}
    if len(dynamics) > 1:
        raise ValueError(text)
    return limit | ({"dynamics": dynamics[0]} if dynamics else {})


def _write_neighbours(plain: list[dict[str, str]]) -> str:
    return "; ".join(
        f"{one['sonority']} ({one['because']})" + (f": {one['note']}" if "note" in one else "")
        for one in plain
    )


_NEIGHBOUR = re.compile(r"(?P<sonority>\S+)\s*\((?P<because>[^()]*)\)\s*(?::\s*(?P<note>.+))?")


def _read_neighbours(text: str) -> list[dict[str, str]]:
    found = [_NEIGHBOUR.fullmatch(part) for part in _parts(";", text)]
    if not all(found):
        raise ValueError(text)
    rows = [match.groupdict() for match in found if match]
    return [{name: words for name, words in row.items() if words is not None} for row in rows]


def _write_numbers(plain: list[int]) -> str:
    return " ".join(map(str, plain))


def _read_numbers(text: str) -> list[int]:
    return [int(part) for part in re.split(r"[\s,;]+", text.strip())]


def whole_number(text: str) -> int | str:
    """Return a number as people write it as a number, and any other text as it is."""
    return int(text) if re.fullmatch(r"0|[1-9][0-9]{0,17}", text) else text


def _write_ids(plain: list[str]) -> str:
    return " ".join(plain)


def _read_ids(text: str) -> list[str]:
    return [part for part in re.split(r"[\s,;]+", text) if part]


def _write_names(plain: list[dict[str, str]]) -> str:
    return "; ".join(
        one["literal"]
        if set(one) == {"literal"}
        else f"{one.get('family', '')}, {one.get('given', '')}".strip()
        for one in plain
    )


def _read_names(text: str) -> list[dict[str, str]]:
    return [_name(part) for part in _parts(";", text)]


def _name(text: str) -> dict[str, str]:
    if "," not in text:
        return {"literal": text}
    family, given = (part.strip() for part in text.split(",", 1))
    return {name: part for name, part in (("family", family), ("given", given)) if part}


def _write_date(plain: dict[str, list[list[int]]]) -> str:
    return "/".join("-".join(map(str, parts)) for parts in plain["date-parts"])


def _read_date(text: str) -> dict[str, list[list[int]]]:
    return {"date-parts": [[int(part) for part in day.split("-")] for day in text.split("/")]}


def _parts(separator: str, text: str) -> list[str]:
    return [part.strip() for part in text.split(separator) if part.strip()]


_NAMES = CellForm(_write_names, _read_names, "Brask, Ottoline; Dowle, Tavin.")
FORMS: dict[str, CellForm] = {
    "emphasised": CellForm(
        str, whole_number, "the number of the tone, or its written pitch.", False
    ),
    "page": CellForm(str, whole_number, "a page.", False),
    "number": CellForm(str, whole_number, "a number.", False),
    "presence": CellForm(_write_presence, _read_presence, "pp-p faint, mf clear."),
    "limits": CellForm(
        _write_limits, _read_limits, "single tongue: 16th at quarter = 72, mp-f; slap: …"
    ),
    "neighbours": CellForm(
        _write_neighbours, _read_neighbours, "heron (fingers): only one finger moves; egret (…)"
    ),
    "build_up": CellForm(_write_numbers, _read_numbers, "the numbers of the tones: 2 1 3."),
    "same_fingering_as": CellForm(_write_ids, _read_ids, "ids: heron egret."),
    "source author": _NAMES,
    "source editor": _NAMES,
    "source issued": CellForm(_write_date, _read_date, "a year, or year-month-day: 2031-11-25."),
}
"""Every kind of field with parts of its own; a new one is a new row."""

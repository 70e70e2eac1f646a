"""Sound collections and plans to be broken, as YAML and as JSON."""

from __future__ import annotations

import json
from importlib.resources import files

from reedchord.collection_reading import parse_collection
from reedchord.placement.plan import parse_plan
from reedchord.yaml_text import read_data_text

_DATA = files("reedchord") / "demo_data"
_RECORDS = 2
"""Sonorities of the demonstration that are taken: all of them take long to read."""


def _short(text: str) -> str:
    """Return the beginning of a collection, up to the record that would be one too many."""
    start = text.index("\nsonorities:")
    parts = text[start:].split("\n  - id:")
    return text[:start] + "\n  - id:".join(parts[: _RECORDS + 1])


_COLLECTION = _short((_DATA / "harbour-band.yaml").read_text("utf-8"))
_PLAN = (_DATA / "harbour-plan.yaml").read_text("utf-8")


def _as_json(text: str) -> str:
    return json.dumps(read_data_text(text, "x.yaml").data, indent=1, ensure_ascii=False)


TEXTS = {
    "collection.yaml": _COLLECTION,
    "collection.json": _as_json(_COLLECTION),
    "plan.yaml": _PLAN,
    "plan.json": _as_json(_PLAN),
}
"""Texts by the names of their files: the format is told by the name."""


def read_text(name: str, text: str) -> object:
    """Read a text as what its name says."""
    return (parse_plan if name.startswith("plan") else parse_collection)(text, name)

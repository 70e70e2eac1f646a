"""A collection as the text of a file: YAML as people write it, or JSON."""

from __future__ import annotations

import io
import json
from collections.abc import Iterable, Sequence
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.comments import CommentedMap, CommentedSeq
from ruamel.yaml.scalarstring import DoubleQuotedScalarString

from reedchord.collection_file import FORMAT, VERSION
from reedchord.exchange.cells import presence_by_range
from reedchord.sonority import Sonority
from reedchord.source import Source

_WIDTH = 100
_ROWS_ON_ONE_LINE = ("tones", "limits", "neighbours", "author", "editor")
_ON_ONE_LINE = ("source", "build_up", "issued", "same_fingering_as")


def sonority_data(sonority: Sonority) -> dict[str, Any]:
    """Return a record as the plain data of a file: its source is cited, not repeated."""
    data = sonority.model_dump(mode="json", by_alias=True, exclude_defaults=True)
    if "source" in data:
        data["source"].pop("entry", None)
    return data


def source_data(source: Source) -> dict[str, Any]:
    """Return a source as the plain data of a file."""
    return source.model_dump(mode="json", by_alias=True, exclude_defaults=True)


def collection_data(
    sources: Iterable[dict[str, Any]], sonorities: Iterable[dict[str, Any]], **head: str
) -> dict[str, Any]:
    """Return the plain data of a whole file; `head` may hold a title and a note."""
    data = {"reedchord": FORMAT, "version": VERSION, **head}
    return data | {"sources": list(sources), "sonorities": list(sonorities)}


def json_text(data: dict[str, Any]) -> str:
    """Return plain data as JSON."""
    return json.dumps(data, ensure_ascii=False, indent=2) + "\n"


def yaml_text(data: dict[str, Any], comments: Sequence[str] = ()) -> str:
    """Return plain data of a collection as YAML, comments first; one line for a tone."""
    rows = dict(data)
    for name in ("sources", "sonorities"):
        rows[name] = spaced([styled(record) for record in data[name]])
    head = "".join(f"# {line}".rstrip() + "\n" for comment in comments for line in _lines(comment))
    return head + dumped(rows)


def dumped(document: Any, offset: int = 2) -> str:
    """Return a document as YAML, with the comments that it carries."""
    stream = io.StringIO()
    writer(offset).dump(document, stream)
    return stream.getvalue()


def writer(offset: int = 2) -> YAML:
    """Return a reader and writer of YAML that keeps comments, with dashes indented so far."""
    yaml = YAML()
    yaml.width = _WIDTH
    yaml.indent(mapping=2, sequence=offset + 2, offset=offset)
    yaml.preserve_quotes = True
    yaml.allow_unicode = True
    yaml.brace_single_entry_mapping_in_flow_sequence = True
    return yaml


def styled(record: dict[str, Any]) -> CommentedMap:
    """Return a record whose small parts stand on one line."""
    made = CommentedMap()
    for name, part in record.items():
        if isinstance(part, str):
            made[name] = _quoted_where_odd(part)
        elif name in _ROWS_ON_ONE_LINE and isinstance(part, list):
            rows = [_with_ranges(row) for row in part] if name == "tones" else part
            made[name] = CommentedSeq([_flow(row) for row in rows])
        else:
            made[name] = _flow(part) if name in _ON_ONE_LINE else part
    return made


def _with_ranges(tone: dict[str, Any]) -> dict[str, Any]:
    if "presence" not in tone:
        return tone
    return {**tone, "presence": presence_by_range(tone["presence"])}


def spaced(records: list[CommentedMap]) -> CommentedSeq:
    """Return a list with an empty line between its records."""
    rows = CommentedSeq(records)
    for index in range(1, len(records)):
        rows.yaml_set_comment_before_after_key(index, before="\n")
    return rows


def _flow(part: Any) -> Any:
    if isinstance(part, dict):
        made = CommentedMap((name, _flow(inner)) for name, inner in part.items())
        made.fa.set_flow_style()
        return made
    if isinstance(part, list):
        row = CommentedSeq([_flow(inner) for inner in part])
        row.fa.set_flow_style()
        return row
    return _quoted_where_odd(part) if isinstance(part, str) else part


def _quoted_where_odd(text: str) -> str:
    """Quote what the YAML writer leaves bare and cannot read again, such as `?)` in braces."""
    if text[:1].isalnum() and text.isprintable():
        return text
    quoted: str = DoubleQuotedScalarString(text)
    return quoted


def _lines(comment: str) -> list[str]:
    """Return a comment's lines, whatever is in it: a heading may hold line ends."""
    return ["".join(c if c.isprintable() else " " for c in line) for line in comment.splitlines()]

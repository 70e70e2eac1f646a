"""A collection file as it stands, comments and all, so that records can be added to it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from ruamel.yaml.comments import CommentedMap, CommentedSeq
from ruamel.yaml.tokens import CommentToken

from reedchord.collection import Collection
from reedchord.collection_file import FORMAT
from reedchord.collection_reading import read_collection
from reedchord.data_text import DataText
from reedchord.errors import Where
from reedchord.exchange.collection_text import dumped, styled, writer
from reedchord.yaml_text import read_composed, read_data_text

LISTS = ("sources", "sonorities")


@dataclass(frozen=True)
class CommentedFile:
    """One file of a collection: its document with comments, and the lines of its fields."""

    path: str
    text: str
    fields: DataText
    document: CommentedMap

    def records(self, kind: str) -> CommentedSeq:
        """Return the list of sources or sonorities, made where there is none."""
        rows = self.document.get(kind)
        if not isinstance(rows, CommentedSeq):
            rows = self.document[kind] = CommentedSeq()
        rows.fa.set_block_style()
        return rows

    def comments_before(self, kind: str, index: int) -> list[CommentToken]:
        """Return what stands before a record: for the first one, the head of the file as well."""
        rows = self.document.get(kind)
        if not isinstance(rows, CommentedSeq):
            return []
        if index:
            held = rows.ca.items.get(index)
            return list(held[1] or ()) if held else []
        heads = [rows.ca.comment]
        if kind == "sonorities":
            heads.insert(0, self.document.ca.comment)
        return [token for head in heads if head for token in head[1] or ()]

    def append(self, kind: str, row: CommentedMap, comments: list[CommentToken]) -> None:
        """Add a record at the end of a list, an empty line and comments before it."""
        rows = self.records(kind)
        rows.append(row)
        at = len(rows) - 1
        rows.yaml_set_comment_before_after_key(at, before="\n")
        rows.ca.items[at][1] += [one for one in comments if one.value.strip()]

    def where(self, kind: str, index: int) -> Where:
        """Return the place of a record."""
        return self.fields.where((kind, index, "id"), self.path)

    def as_text(self) -> str:
        """Return the document as YAML, its lists indented as they were."""
        columns = [self.fields.positions.get((kind, 0), (0, 5))[1] for kind in LISTS]
        return dumped(self.document, offset=min(2, max(0, min(columns) - 3)))


def add_field(record: CommentedMap, name: str, value: Any) -> None:
    """Set a field, a new one last; comments before the next record stay before that."""
    behind = None if name in record else _comment_behind(record)
    record[name] = value
    if behind is not None:
        own, line_end, next_lines = behind.value.partition("\n")
        behind.value = own + line_end
        if next_lines:
            token = CommentToken(line_end + next_lines, start_mark=behind.start_mark)
            record.ca.items[name] = [None, None, token, None]


def _comment_behind(part: CommentedMap | CommentedSeq) -> CommentToken | None:
    """Return what stands behind the last value of a part, with the lines up to what follows."""
    if not part:
        return None
    is_map = isinstance(part, CommentedMap)
    last = list(part)[-1] if is_map else len(part) - 1
    inner = part[last]
    if isinstance(inner, CommentedMap | CommentedSeq) and inner and not inner.fa.flow_style():
        return _comment_behind(inner)
    held = part.ca.items.get(last)
    return held[2 if is_map else 0] if held else None


def read_commented(path: Path) -> tuple[Collection, list[CommentedFile]]:
    """Read a collection, and its files as they stand; raises what reading it raises."""
    read: list[tuple[str, str, DataText, Callable[[], CommentedMap]]] = []

    def fields_of(text: str, file: str) -> DataText:
        fields, document = _read(text, file)
        read.append((file, text, fields, document))
        return fields

    collection = read_collection(path, fields_of)
    ours = [one for one in read if one[2].data.get("reedchord") == FORMAT]
    return collection, [
        CommentedFile(file, text, fields, document()) for file, text, fields, document in ours
    ]


def _read(text: str, file: str) -> tuple[DataText, Callable[[], CommentedMap]]:
    """Return what a text holds, and what makes its document once it holds no mistakes."""
    if file.casefold().endswith(".json"):
        fields = read_data_text(text, file)
        return fields, lambda: _styled(fields.data)
    yaml = writer()
    fields, root = read_composed(text, file, yaml)
    return fields, lambda: yaml.constructor.construct_document(root)


def _styled(data: dict[str, Any]) -> CommentedMap:
    document = CommentedMap(data)
    for kind in LISTS:
        if kind in document:
            document[kind] = CommentedSeq([styled(row) for row in document[kind]])
    return document


def comments_in(text: str) -> list[str]:
    """Return the comments of a YAML text that stand on lines of their own."""
    return [line.strip() for line in text.splitlines() if line.lstrip().startswith("#")]


def lost_comments(before: Iterable[CommentedFile], after: str) -> list[str]:
    """Return the comments of YAML files that are not in a text made of them."""
    kept = set(comments_in(after))
    every = [
        line
        for file in before
        if not file.path.casefold().endswith(".json")
        for line in comments_in(file.text)
    ]
    return [line for line in every if line not in kept]

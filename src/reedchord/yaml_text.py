"""YAML and JSON text into plain data that remembers the line of every field."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.constructor import SafeConstructor
from ruamel.yaml.error import MarkedYAMLError, YAMLError
from ruamel.yaml.nodes import MappingNode, Node, SequenceNode

from reedchord.errors import InputError, Where

Path = tuple[str | int, ...]
"""Keys and indexes that lead from the top of a document to a field."""

MAX_NODES = 2_000_000
MAX_DEPTH = 60


@dataclass(frozen=True)
class DataText:
    """Plain data read from a text, with the line and column (from 1) of every field."""

    data: Any
    positions: dict[Path, tuple[int, int]] = field(default_factory=dict)

    def where(self, path: Path, file: str | None = None) -> Where:
        """Return the place of a field, or of the nearest thing around it."""
        for length in range(len(path), -1, -1):
            if path[:length] in self.positions:
                line, column = self.positions[path[:length]]
                return Where(path=file, line=line, column=column)
        return Where(path=file)


def read_data_text(text: str, file: str) -> DataText:
    """Read YAML, or JSON where the file name ends so; raises InputError with the place."""
    if file.casefold().endswith(".json"):
        _check_json(text, file)
        # YAML 1.2 holds JSON, but not its tabs; columns do not change.
        text = text.replace("\t", " ")
    return _read_yaml(text, file)


def _check_json(text: str, file: str) -> None:
    def refuse_constant(name: str) -> None:
        raise InputError("json.constant", f"{name} is no JSON number", where=Where(path=file))

    try:
        json.loads(text, parse_constant=refuse_constant)
    except json.JSONDecodeError as error:
        raise InputError(
            "json.broken",
            f"the JSON breaks off here: {error.msg}",
            where=Where(path=file, line=error.lineno, column=error.colno),
        ) from None
    except RecursionError:
        raise _too_deep(file) from None


def _read_yaml(text: str, file: str) -> DataText:
    try:
        yaml = YAML(typ="safe", pure=True)
        root = yaml.compose(text)
    except MarkedYAMLError as error:
        mark = error.problem_mark
        place = Where(path=file, line=mark.line + 1, column=mark.column + 1) if mark else None
        raise InputError(
            "yaml.broken",
            f"the YAML breaks off here: {error.problem or error.context}",
            hint="Look at the indentation, at colons and quotes in this line and the one above.",
            where=place or Where(path=file),
        ) from None
    except (YAMLError, ValueError) as error:
        raise InputError(
            "yaml.broken", f"this is no YAML: {error}", where=Where(path=file)
        ) from None
    except RecursionError:
        raise _too_deep(file) from None
    if root is None:
        raise InputError("yaml.empty", "the file is empty", where=Where(path=file))
    reader = _Reader(file, yaml.constructor)
    data = reader.read(root, ())
    return DataText(data, reader.positions)


def _too_deep(file: str) -> InputError:
    return InputError(
        "yaml.depth", f"the data is nested more than {MAX_DEPTH} deep", where=Where(path=file)
    )


class _Reader:
    """Turns composed nodes into plain data and notes where each stood."""

    def __init__(self, file: str, constructor: SafeConstructor) -> None:
        self.file = file
        self.positions: dict[Path, tuple[int, int]] = {}
        self._constructor = constructor

    def read(self, node: Node, path: Path) -> Any:
        if len(path) > MAX_DEPTH:
            raise _too_deep(self.file)
        if len(self.positions) > MAX_NODES:
            raise InputError(
                "yaml.size", f"more than {MAX_NODES} fields", where=Where(path=self.file)
            )
        self.positions.setdefault(path, (node.start_mark.line + 1, node.start_mark.column + 1))
        if isinstance(node, MappingNode):
            return dict(self._entries(node, path))
        if isinstance(node, SequenceNode):
            return [self.read(child, (*path, index)) for index, child in enumerate(node.value)]
        return self._scalar(node)

    def _entries(self, node: Node, path: Path) -> Iterator[tuple[str, Any]]:
        seen = set()
        for key_node, child in node.value:
            key = key_node.value
            line, column = key_node.start_mark.line + 1, key_node.start_mark.column + 1
            here = Where(path=self.file, line=line, column=column)
            if not isinstance(key, str):
                raise InputError("yaml.key", "a field name is plain text", where=here)
            if key in seen:
                raise InputError("yaml.twice", f"the field {key!r} stands here twice", where=here)
            seen.add(key)
            self.positions[(*path, key)] = (line, column)
            yield key, self.read(child, (*path, key))

    def _scalar(self, node: Node) -> Any:
        name = str(node.tag).rsplit(":", 1)[-1]
        try:
            if name == "int":
                return self._constructor.construct_yaml_int(node)
            if name == "float":
                return self._constructor.construct_yaml_float(node)
        except ValueError:
            return node.value
        if name == "bool":
            return node.value.casefold() == "true"
        return None if name == "null" else node.value

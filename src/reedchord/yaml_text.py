"""YAML or JSON text into plain data that remembers the line of every field."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.constructor import SafeConstructor
from ruamel.yaml.error import MarkedYAMLError, YAMLError
from ruamel.yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode
from ruamel.yaml.reader import ReaderError

from reedchord.data_text import MAX_DEPTH, DataText, Path, named_twice, too_deep
from reedchord.errors import InputError, Where
from reedchord.json_text import read_json

__all__ = ["DataText", "Path", "read_data_text"]

_SPARE_FIELDS = 10_000
"""Without aliases, a text holds fewer fields than characters; aliases may add this many."""

_PLAIN_WHOLE_NUMBER = re.compile(r"[-+]?(?:0|[1-9][0-9]{0,17})")
_TRUE = {"true", "yes", "on"}
_PROBLEMS = (
    ("'\\t'", "a tab", "YAML is indented with spaces, never with tabs."),
    ("another document", "a second document", "A file holds one: take the line of dashes out."),
    ("<document start>", "what stands here begins no entry", "Is this a file of another kind?"),
    ("<block end>", "a line is indented otherwise than those beside it", ""),
    ("mapping values", "a colon where none can be", "Is a dash, a colon or a quote missing above?"),
    (
        "',' or",
        "a colon, or a bracket left open",
        "Within brackets, text with a colon is quoted; a # after a space begins a comment.",
    ),
    ("end of stream", "the file ends within quotes or brackets", "Close them where they begin."),
)
"""What the reader of YAML says, what is wrong in plain words, and what would be right."""


def read_data_text(text: str, file: str) -> DataText:
    """Read YAML 1.2, or JSON where the file name ends so; raises InputError with the place."""
    text = text.removeprefix("\ufeff")
    if not text.strip():
        raise InputError("data.empty", "the file is empty", where=Where(path=file))
    return read_json(text, file) if file.casefold().endswith(".json") else _read_yaml(text, file)


def _read_yaml(text: str, file: str) -> DataText:
    fields, _ = read_composed(text, file, YAML(typ="safe", pure=True))
    return fields


def read_composed(text: str, file: str, yaml: YAML) -> tuple[DataText, Node]:
    """Read YAML once, with what `yaml` makes of it before it constructs anything.

    Raises InputError with the place.
    """
    try:
        root = yaml.compose(text)
    except MarkedYAMLError as error:
        raise _broken(error, file) from None
    except ReaderError as error:
        raise _forbidden_character(error, text, file) from None
    except (YAMLError, ValueError) as error:
        raise InputError(
            "yaml.broken", f"this is no YAML: {error}", where=Where(path=file)
        ) from None
    except RecursionError:
        raise too_deep(file) from None
    if root is None:
        raise InputError("data.empty", "the file is empty", where=Where(path=file))
    reader = _Reader(file, len(text) + _SPARE_FIELDS)
    return DataText(reader.read(root, ()), reader.positions), root


def _broken(error: MarkedYAMLError, file: str) -> InputError:
    mark = error.problem_mark or error.context_mark
    place = Where(path=file, line=mark.line + 1, column=mark.column + 1) if mark else None
    said = str(error.problem or error.context).removeprefix("but ")
    known = ((words, hint) for part, words, hint in _PROBLEMS if part in said)
    problem, hint = next(known, (said, ""))
    usual = "Look at the indentation, at colons and quotes in this line and the one above."
    return InputError(
        "yaml.broken",
        f"the YAML breaks off here: {problem}",
        hint=hint or usual,
        where=place or Where(path=file),
    )


def _forbidden_character(error: ReaderError, text: str, file: str) -> InputError:
    before = text[: error.position]
    line = before.count("\n") + 1
    column = len(before) - before.rfind("\n")
    return InputError(
        "yaml.character",
        f"the character U+{ord(text[error.position]):04X} may not stand in YAML",
        hint="Take it out; it is probably invisible.",
        where=Where(path=file, line=line, column=column),
    )


class _Reader:
    """Turns composed nodes into plain data and notes where each stood."""

    def __init__(self, file: str, max_fields: int) -> None:
        self.file = file
        self.positions: dict[Path, tuple[int, int]] = {}
        self._constructor: SafeConstructor = YAML(typ="safe", pure=True).constructor
        self._max_fields = max_fields

    def read(self, node: Node, path: Path) -> Any:
        if len(path) > MAX_DEPTH:
            raise too_deep(self.file)
        if len(self.positions) > self._max_fields:
            raise InputError(
                "yaml.aliases",
                "aliases repeat so much that the data grows out of hand",
                hint="Write the fields out instead of repeating them by * and &.",
                where=self._place(node),
            )
        start = node.start_mark
        self.positions.setdefault(path, (start.line + 1, start.column + 1))
        if isinstance(node, MappingNode):
            return dict(self._entries(node, path))
        if isinstance(node, SequenceNode):
            return [self.read(child, (*path, index)) for index, child in enumerate(node.value)]
        return self._scalar(node)

    def _entries(self, node: Node, path: Path) -> Iterator[tuple[str, Any]]:
        seen = set()
        for key_node, child in node.value:
            key, place = key_node.value, self._place(key_node)
            if not isinstance(key, str):
                raise InputError("yaml.key", "a field name is plain text", where=place)
            if key in seen:
                raise named_twice(key, place)
            seen.add(key)
            self.positions[(*path, key)] = (place.line or 1, place.column or 1)
            yield key, self.read(child, (*path, key))

    def _place(self, node: Node) -> Where:
        start = node.start_mark
        return Where(path=self.file, line=start.line + 1, column=start.column + 1)

    def _scalar(self, node: Node) -> Any:
        """Return a scalar by its tag; a number that would lose digits or zeros stays text."""
        name = str(node.tag).rsplit(":", 1)[-1]
        if name == "int" and _PLAIN_WHOLE_NUMBER.fullmatch(node.value):
            return int(node.value)
        if name == "float":
            try:
                return self._constructor.construct_yaml_float(node)
            except ValueError:
                return node.value
        if name == "bool":
            return node.value.casefold() in _TRUE
        if name == "null":
            return None
        # Where comments are kept, a folded text remembers by bells where its lines ended.
        is_folded = isinstance(node, ScalarNode) and node.style == ">"
        return node.value.replace("\a", "") if is_folded else node.value

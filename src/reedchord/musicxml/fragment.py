"""A small tree with the exact place of every tag, for one piece of a document."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import NamedTuple
from xml.parsers import expat

from reedchord.errors import InputError

_START_TAG = re.compile(r"""<[^>"']*(?:(?:"[^"]*"|'[^']*')[^>"']*)*>""")


class Node(NamedTuple):  # a dataclass takes three times as long to make
    """One element of a fragment; offsets count the characters of the text it was read from.

    The start tag lies at [start, open_end), the end tag at [close_start, end); both end
    offsets of a self-closing element equal `open_end`. `text` is the unescaped character
    data before the first child; prefixes stay part of names.
    """

    tag: str
    attributes: dict[str, str]
    start: int
    open_end: int
    close_start: int
    end: int
    children: tuple[Node, ...]
    text: str
    self_closing: bool

    def get(self, name: str, default: str | None = None) -> str | None:
        """Return an attribute, or `default` where it is missing."""
        return self.attributes.get(name, default)

    def find(self, tag: str) -> Node | None:
        """Return the first child of this name, or None."""
        return next((child for child in self.children if child.tag == tag), None)

    def find_all(self, tag: str) -> list[Node]:
        """Return all children of this name in document order."""
        return [child for child in self.children if child.tag == tag]

    def has(self, tag: str) -> bool:
        """Tell whether a child of this name is there."""
        return self.find(tag) is not None

    def text_of(self, tag: str) -> str | None:
        """Return the stripped text of the first child of this name, or None."""
        child = self.find(tag)
        return None if child is None else child.text.strip()

    def source(self, text: str) -> str:
        """Return this element as it is written in `text`, the text it was read from."""
        return text[self.start : self.end]


def parse_fragment(text: str) -> Node:
    """Read one element and everything in it.

    Raises InputError `xml.name` for names that expat does not take, and ValueError when the
    text is not well-formed alone: that is our own fault.
    """
    return _Reader(text).root()


class _Open(NamedTuple):
    """An element whose end tag has not come yet."""

    tag: str
    attributes: dict[str, str]
    start: int
    open_end: int
    children: list[Node]
    text: list[str]


class _Reader:
    """Collects nodes from expat's events."""

    def __init__(self, text: str) -> None:
        self._text = text
        self._encoded = text.encode("utf-8")
        self._offset = _offset_counter(text, self._encoded)
        self._document = _Open("", {}, 0, 0, [], [])
        self._stack = [self._document]
        self._parser = expat.ParserCreate("utf-8")
        self._parser.buffer_text = True
        self._parser.StartElementHandler = self._start
        self._parser.EndElementHandler = self._end
        self._parser.CharacterDataHandler = self._characters

    def root(self) -> Node:
        try:
            self._parser.Parse(self._encoded, True)
        except expat.ExpatError as error:
            # libxml2 takes the names of XML 1.0, 5th edition; expat those of the 4th.
            if not self._text.isascii():
                raise InputError(
                    "xml.name",
                    "a tag or an attribute has a name that not every reader of XML takes",
                    hint="MusicXML's own names are plain letters and hyphens.",
                ) from error
            raise ValueError(f"no well-formed fragment: {error}") from error
        finally:
            del self._parser  # it and this reader hold each other, and with them all nodes
        return self._document.children[0]

    def _start(self, tag: str, attributes: dict[str, str]) -> None:
        start = self._offset(self._parser.CurrentByteIndex)
        if attributes:
            match = _START_TAG.match(self._text, start)
            assert match is not None  # expat has just found a start tag here
            open_end = match.end()
        else:
            open_end = self._text.index(">", start) + 1
        self._stack.append(_Open(tag, attributes, start, open_end, [], []))

    def _end(self, tag: str) -> None:
        element = self._stack.pop()
        close_start = end = element.open_end
        self_closing = self._text[end - 2] == "/"
        if not self_closing:
            close_start = self._offset(self._parser.CurrentByteIndex)
            end = self._text.index(">", close_start) + 1
        node = Node(
            tag,
            element.attributes,
            element.start,
            element.open_end,
            close_start,
            end,
            tuple(element.children),
            "".join(element.text),
            self_closing,
        )
        self._stack[-1].children.append(node)

    def _characters(self, characters: str) -> None:
        element = self._stack[-1]
        if not element.children:
            element.text.append(characters)


def _offset_counter(text: str, encoded: bytes) -> Callable[[int], int]:
    """Return a function from UTF-8 offsets, asked in rising order, to character offsets."""
    if text.isascii():
        return int
    byte_count = character_count = 0

    def offset(byte_index: int) -> int:
        nonlocal byte_count, character_count
        character_count += len(encoded[byte_count:byte_index].decode("utf-8"))
        byte_count = byte_index
        return character_count

    return offset

"""Tags in the text of a document, comments and their like passed over."""

from __future__ import annotations

import re
from collections.abc import Iterator

_OPAQUE = r"<!--.*?-->|<!\[CDATA\[.*?\]\]>|<\?.*?\?>"
_REST_OF_TAG = r"(?=[\s/>])(?:[^>\"']|\"[^\"]*\"|'[^']*')*>"
_START_TAG = re.compile(rf"<[^\s/>]+{_REST_OF_TAG}")


def tags(text: str, tag: str, start: int = 0) -> Iterator[re.Match[str]]:
    """Yield every start tag, end tag and empty tag of this name, with groups close and name."""
    pattern = re.compile(rf"{_OPAQUE}|<(?P<close>/?)(?P<name>{tag}){_REST_OF_TAG}", re.DOTALL)
    return (match for match in pattern.finditer(text, start) if match["name"])


def end_of_start_tag(text: str, start: int) -> int:
    """Return where the start tag, or the empty tag, that begins at `start` ends."""
    match = _START_TAG.match(text, start)
    assert match is not None  # an element begins there
    return match.end()


def element_spans(text: str, tag: str) -> Iterator[tuple[int, int]]:
    """Yield start and end of each element of this name; such elements must not nest."""
    first = next(tags(text, tag), None)
    if first is None:
        return
    # Without its first character, which is everywhere, an opening is found much faster.
    if all(text.find(opening, first.start()) < 0 for opening in ("!--", "![CDATA[", "?>")):
        yield from _plain_spans(text, tag, first.start())
        return
    start = 0
    for match in tags(text, tag, first.start()):
        if match["close"]:
            yield start, match.end()
        elif match[0].endswith("/>"):
            yield match.start(), match.end()
        else:
            start = match.start()


def _plain_spans(text: str, tag: str, position: int) -> Iterator[tuple[int, int]]:
    """Yield spans where nothing can hide a tag: a search for its name alone is much faster."""
    end_tag = re.compile(rf"</{tag}\s*>")
    for opening in re.compile(rf"<{tag}{_REST_OF_TAG}").finditer(text, position):
        if opening[0].endswith("/>"):
            yield opening.span()
            continue
        closing = end_tag.search(text, opening.end())
        if closing is None:
            return
        yield opening.start(), closing.end()

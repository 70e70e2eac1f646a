"""Tags in the text of a document, comments and their like passed over."""

from __future__ import annotations

import re
from collections.abc import Iterator


def tags(text: str, tag: str, start: int = 0) -> Iterator[re.Match[str]]:
    """Yield every start tag, end tag and empty tag of this name; group 1 is `/` at an end."""
    pattern = re.compile(
        r"<!--.*?-->|<!\[CDATA\[.*?\]\]>|<\?.*?\?>"
        rf"|<(?P<close>/?)(?P<name>{tag})(?=[\s/>])(?:[^>\"']|\"[^\"]*\"|'[^']*')*>",
        re.DOTALL,
    )
    return (match for match in pattern.finditer(text, start) if match["name"])


def element_spans(text: str, tag: str) -> Iterator[tuple[int, int]]:
    """Yield start and end of each element of this name; such elements must not nest."""
    start = 0
    for match in tags(text, tag):
        if match["close"]:
            yield start, match.end()
        elif match[0].endswith("/>"):
            yield match.start(), match.end()
        else:
            start = match.start()

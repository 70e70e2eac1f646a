"""What is left of a score's text when touched measures and our field are cut out of it."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator

_TOKEN = re.compile(
    r"<!--.*?-->|<!\[CDATA\[.*?\]\]>|<\?.*?\?>"
    r"|(?P<open><measure(?=[\s/>])(?:[^>\"']|\"[^\"]*\"|'[^']*')*>)|(?P<close></measure\s*>)",
    re.DOTALL,
)
_FIELD = r'<miscellaneous-field name="reedchord">[^<]*</miscellaneous-field>'
_WAYS_TO_STAND = [
    rf"\s*<identification><miscellaneous>{_FIELD}</miscellaneous></identification>",
    rf"\s*<miscellaneous>{_FIELD}</miscellaneous>",
    rf"\s*{_FIELD}",
]


def without_touched(text: str, touched: Collection[int]) -> str:
    """Cut out our field, and the measures that are `touched`, counted from 0 over all parts.

    Found by plain search for tags, so that it shares nothing with the library.
    """
    kept, end = [], 0
    for ordinal, (measure_start, measure_end) in enumerate(_measures(text)):
        if ordinal in touched:
            kept.append(text[end:measure_start])
            end = measure_end
    text = "".join([*kept, text[end:]])
    for way in _WAYS_TO_STAND:
        if re.search(way, text):
            return re.sub(way, "", text)
    return text


def _measures(text: str) -> Iterator[tuple[int, int]]:
    start = 0
    for token in _TOKEN.finditer(text):
        if token["open"] and token[0].endswith("/>"):
            yield token.span()
        elif token["open"]:
            start = token.start()
        elif token["close"]:
            yield start, token.end()

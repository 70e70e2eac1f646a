"""What is left of a score's text when touched measures and our field are cut out of it."""

from __future__ import annotations

import re
from collections.abc import Collection

_MEASURE = re.compile(r"<measure\b[^>]*/>|<measure\b.*?</measure\s*>", re.DOTALL)
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
    for ordinal, measure in enumerate(_MEASURE.finditer(text)):
        if ordinal in touched:
            kept.append(text[end : measure.start()])
            end = measure.end()
    text = "".join([*kept, text[end:]])
    for way in _WAYS_TO_STAND:
        if re.search(way, text):
            return re.sub(way, "", text)
    return text

"""A changed score read anew where it changed: bars that nobody touched are left empty.

A document is well-formed when it is so with each of some well-formed elements emptied, and a
bar that is equal to the last character was read once already. What comes before a bar in its
part shows in that bar by `<attributes>` alone, so bars that hold them are read again.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Iterator, Sequence

from reedchord.musicxml.document import Score, score_of
from reedchord.musicxml.splice import Edit
from reedchord.musicxml.tag_search import end_of_start_tag

_ATTRIBUTES = re.compile("<attributes")


def read_touched(before: Score, after: str, edits: Sequence[Edit]) -> Score:
    """Return the score `after`, which equals `before` outside the edits, without its other bars.

    Those are there, in order and with their start tags, but empty. Raises InputError where
    `after` is no MusicXML.
    """
    return score_of(before.source.with_text("".join(_pieces(before, after, edits))))


def _pieces(before: Score, after: str, edits: Sequence[Edit]) -> Iterator[str]:
    """Yield the pieces of the text `after` that are to be read."""
    ordered = sorted(edits, key=lambda edit: edit.start)
    ends = [edit.end for edit in ordered]
    shifts = [0]
    for edit in ordered:
        shifts.append(shifts[-1] + len(edit.new_text) - (edit.end - edit.start))
    stated = [match.start() for match in _ATTRIBUTES.finditer(before.text)]
    done = 0
    for start, end in before.bar_spans:
        following = bisect_left(ends, start)  # an edit at either end touches the bar
        is_touched = following < len(ordered) and ordered[following].start <= end
        if is_touched or bisect_left(stated, start) < bisect_left(stated, end):
            continue
        opening = end_of_start_tag(before.text, start)
        shift = shifts[following]
        yield after[done : opening + shift]
        done = before.text.rindex("<", start, end) + shift if opening < end else opening + shift
    yield after[done:]

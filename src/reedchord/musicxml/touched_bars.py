"""A changed score read anew where it changed: bars that nobody touched are left empty.

A document is well-formed when it is so with each of some well-formed elements emptied, as long
as none of these is lost in a comment, which shows in the number of bars; and a bar that is
equal to the last character was read once already. What comes before a bar in its part shows
in that bar by `<attributes>` alone, so bars that hold them are read again.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Container, Iterable, Iterator, Sequence

from reedchord.musicxml.document import Bar, Score, score_of
from reedchord.musicxml.splice import Edit
from reedchord.musicxml.tag_search import end_of_start_tag

_ATTRIBUTES = re.compile("<attributes")


def read_touched(
    before: Score, after: str, edits: Sequence[Edit], looked_at: Iterable[Bar] = ()
) -> Score:
    """Return the score `after`, which equals `before` outside the edits, without its other bars.

    Those are there, in order and with their start tags, but empty; bars to be `looked_at`
    are whole even if nothing in them was edited. Raises InputError where `after` is no
    MusicXML.
    """
    whole = {bar.ordinal for bar in looked_at}
    return score_of(before.source.with_text("".join(_pieces(before, after, edits, whole))))


def _pieces(
    before: Score, after: str, edits: Sequence[Edit], whole: Container[int]
) -> Iterator[str]:
    """Yield the pieces of the text `after` that are to be read."""
    ordered = sorted(edits, key=lambda edit: edit.start)
    ends = [edit.end for edit in ordered]
    shifts = [0]
    for edit in ordered:
        shifts.append(shifts[-1] + len(edit.new_text) - (edit.end - edit.start))
    stated = [match.start() for match in _ATTRIBUTES.finditer(before.text)]
    done = 0
    for ordinal, (start, end) in enumerate(before.bar_spans):
        following = bisect_left(ends, start)  # an edit at either end touches the bar
        is_touched = following < len(ordered) and ordered[following].start <= end
        has_attributes = bisect_left(stated, start) < bisect_left(stated, end)
        if is_touched or has_attributes or ordinal in whole:
            continue
        opening = end_of_start_tag(before.text, start)
        shift = shifts[following]
        yield after[done : opening + shift]
        done = before.text.rindex("<", start, end) + shift if opening < end else opening + shift
    yield after[done:]

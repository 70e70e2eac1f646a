"""Edits of a text: applied together, proved to leave the rest alone, and undone."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator
from operator import attrgetter
from typing import NamedTuple

_ORDER = attrgetter("start", "end")


class Edit(NamedTuple):
    """The characters from `start` up to `end` become `new_text`."""

    start: int
    end: int
    new_text: str


def splice(text: str, edits: Iterable[Edit]) -> str:
    """Return `text` with all edits made; offsets count in the old text.

    Insertions at one point keep the order given, and stand before a replacement that begins
    there. Raises ValueError where edits overlap or leave the text: that is our own fault.
    """
    pieces: list[str] = []
    done = 0
    for edit in _in_order(edits, len(text)):
        pieces += (text[done : edit.start], edit.new_text)
        done = edit.end
    pieces.append(text[done:])
    return "".join(pieces)


def add_if_free(done: list[Edit], more: Iterable[Edit]) -> bool:
    """Sort edits in among those `done`, which are in order; none where one overlaps another.

    Return whether they were added.
    """
    added: list[Edit] = []
    for edit in more:
        index = bisect_right(done, _ORDER(edit), key=_ORDER)
        clashes = index > 0 and done[index - 1].end > edit.start
        if clashes or (index < len(done) and edit.end > done[index].start):
            for one in added:
                done.remove(one)
            return False
        done.insert(index, edit)
        added.append(edit)
    return True


def untouched_is_equal(old: str, new: str, edits: Iterable[Edit]) -> bool:
    """Tell whether `new` equals `old` in every character outside the edits."""
    old_done = new_done = 0
    for edit in _in_order(edits, len(old)):
        gap = edit.start - old_done
        if old[old_done : edit.start] != new[new_done : new_done + gap]:
            return False
        old_done = edit.end
        new_done += gap + len(edit.new_text)
    return new_done <= len(new) and old[old_done:] == new[new_done:]


def inverse(edits: Iterable[Edit], old_text: str) -> tuple[Edit, ...]:
    """Return the edits that turn the new text back into `old_text`; offsets in the new text."""
    back: list[Edit] = []
    shift = 0
    for edit in _in_order(edits, len(old_text)):
        start = edit.start + shift
        back.append(Edit(start, start + len(edit.new_text), old_text[edit.start : edit.end]))
        shift += len(edit.new_text) - (edit.end - edit.start)
    return tuple(back)


def _in_order(edits: Iterable[Edit], length: int) -> Iterator[Edit]:
    done = 0
    for edit in sorted(edits, key=_ORDER):
        if not done <= edit.start <= edit.end <= length:
            raise ValueError(f"{edit} overlaps another edit or leaves the {length} characters")
        done = edit.end
        yield edit

"""The notes of a score with what tells them apart: ids, and footnotes that are not printed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, NamedTuple

from reedchord.musicxml.bar_contents import marked_elements
from reedchord.musicxml.document import Part
from reedchord.musicxml.event import Event
from reedchord.musicxml.timeline import BarTimeline

if TYPE_CHECKING:
    from lxml.etree import _Element


class MarkedNote(NamedTuple):
    """A `<note>` with its part and its bar's index."""

    part: Part
    bar_index: int
    element: _Element

    @property
    def id(self) -> str | None:
        """Its id, None where it has none."""
        return self.element.get("id")

    @property
    def footnote(self) -> str:
        """Its editorial footnote; empty where it has none."""
        return self.element.findtext("footnote") or ""

    def event_in(self, timeline: BarTimeline) -> Event:
        """Return the note, chord or grace note of its bar to which it belongs."""
        events = (*timeline.events, *timeline.graces)
        return next(e for e in events if any(note is self.element for note in e.notes))


def marked_notes(parts: Iterable[Part]) -> Iterator[MarkedNote]:
    """Yield the notes of parts that have an id or a footnote, in document order."""
    for part in parts:
        for bar in part.bars:
            for element in marked_elements(bar.element):
                yield MarkedNote(part, bar.index, element)

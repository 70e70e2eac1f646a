"""Where slurs of a part begin and end, and which ends belong together."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from reedchord.musicxml.bar_contents import notes_with_slurs
from reedchord.musicxml.chord_parts import BarText
from reedchord.musicxml.document import Part


class SlurEnd(NamedTuple):
    """Where one slur begins or ends: on which note, as the which of its slurs.

    `child` is the place of the note among the bar's child elements, `chord` that of the first
    note of its chord; `way` is `start` or `stop`.
    """

    bar_index: int
    chord: int
    child: int
    place: int
    voice: str
    staff: str
    way: str
    number: str
    id: str | None
    is_plain: bool
    """Whether nothing is said of how it looks."""

    def offset_in(self, bar: BarText) -> int:
        """Return where in the document it stands; the text is that of its bar."""
        note = bar.node.children[self.child]
        slurs = [it for node in note.find_all("notations") for it in node.find_all("slur")]
        return bar.start + slurs[self.place].start


def slur_ends(part: Part) -> list[SlurEnd]:
    """Return the ends of all slurs of a part, in document order."""
    ends: list[SlurEnd] = []
    for bar in part.bars:
        wanted = set(notes_with_slurs(bar.element))
        chord = 0
        for child, note in enumerate(bar.element.iterchildren("*") if wanted else ()):
            if note.tag == "note" and note.find("chord") is None:
                chord = child
            for place, slur in enumerate(note.iterfind("notations/slur") if note in wanted else ()):
                if slur.get("type") in ("start", "stop"):
                    voice, staff = (note.findtext(tag) or "1" for tag in ("voice", "staff"))
                    said = {str(name): str(text) for name, text in slur.attrib.items()}
                    way, number = said.pop("type"), said.pop("number", "1")
                    name = said.pop("id", None)
                    end = (bar.index, chord, child, place, voice.strip(), staff.strip())
                    ends.append(SlurEnd(*end, way, number, name, not said))
    return ends


def slur_partners(ends: Iterable[SlurEnd]) -> dict[SlurEnd, SlurEnd]:
    """Return the other end of each slur end that has one, among ends of one part.

    A slur ends the last one of its number that began in its voice on an earlier chord: where
    one number is there twice, the shorter slur lies inside the longer one.
    """
    begun: dict[tuple[str, str, str], list[SlurEnd]] = {}
    partners: dict[SlurEnd, SlurEnd] = {}
    for end in sorted(ends, key=_time):
        same = begun.setdefault((end.voice, end.staff, end.number), [])
        if end.way == "start":
            same.append(end)
        elif same:
            partners[end] = same.pop()
            partners[partners[end]] = end
    return partners


def _time(end: SlurEnd) -> tuple[int, int, bool]:
    return end.bar_index, end.chord, end.way == "start"

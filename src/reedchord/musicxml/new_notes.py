"""New notes and rests as text, made after the note in whose place they come."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from reedchord.musicxml import markup
from reedchord.musicxml.chord_parts import Hung, Link
from reedchord.musicxml.fragment import Node

_COPIED_BEFORE_TYPE = ("instrument", "level", "voice")


class NoteModel:
    """A note of the score whose voice, staff, instrument and rhythm new notes share.

    `divisions` are those in which new durations count.
    """

    def __init__(self, text: str, note: Node, divisions: Fraction) -> None:
        self._text = text
        self._note = note
        self._divisions = divisions

    def chord(self, link: Link, start: int = 0) -> Iterator[str]:
        """Yield the notes of a chord from the one with index `start` up, lowest first."""
        for index in range(start, len(link.notes)):
            yield self._member(link, index)

    def rest(self, link: Link) -> str:
        """Return a rest, on the line of the model where that is a rest with one."""
        there = self._note.find("rest")
        line = "".join(child.source(self._text) for child in there.children) if there else ""
        return markup.element(
            "note",
            markup.element("rest", line),
            self.length(link),
            self._copied(*_COPIED_BEFORE_TYPE),
            self.value(link),
            self._copied("staff"),
        )

    def directions(self, hung: Hung) -> str:
        """Return what stands before a chord: its words, then marks that are ready."""
        voice, staff = self._note.text_of("voice"), self._note.text_of("staff")
        words = markup.words_direction(hung.words, voice=voice, staff=staff) if hung.words else ""
        return words + "".join(
            markup.direction(mark, voice=voice, staff=staff, below=True) for mark in hung.directions
        )

    def length(self, link: Link) -> str:
        """Return the `<duration>` of a link."""
        if link.value is None:
            return self._copied("duration")
        return markup.duration(link.quarters, self._divisions)

    def value(self, link: Link) -> str:
        """Return the `<type>` and dots of a link."""
        if link.value is None:
            return self._copied("type", "dot")
        return markup.leaf("type", link.value.type) + "<dot/>" * link.value.dots

    def _member(self, link: Link, index: int) -> str:
        note = link.notes[index]
        hung = Hung() if index else link.hung
        return markup.element(
            "note",
            self._copied("grace"),
            "<chord/>" if index else "",
            markup.pitch(note.pitch),
            self.length(link),
            *(markup.element("tie", type=tie) for tie in note.ties),
            self._copied("instrument"),
            markup.leaf("footnote", hung.footnote) if hung.footnote else "",
            self._copied("level", "voice"),
            self.value(link),
            markup.accidental(note.pitch) if note.shows_accidental else "",
            markup.halved() if link.is_half else self._copied("time-modification"),
            self._copied("stem"),
            note.notehead.markup() if note.notehead else "",
            self._copied("staff"),
            _notations(note.ties, hung),
            *(markup.cents_lyric(line, text) for line, text in enumerate(hung.cents_lines, 1)),
            **({"id": note.id} if note.id else {}),
        )

    def _copied(self, *tags: str) -> str:
        """Return the model's children with these tags, in the order of the tags."""
        return "".join(node.source(self._text) for tag in tags for node in self._note.find_all(tag))


def _notations(ties: tuple[str, ...], hung: Hung) -> str:
    tied = [markup.element("tied", type=tie) for tie in ties]
    marks = [*tied, *hung.notations]
    if hung.fingering:
        marks.append(markup.element("technical", markup.fingering(hung.fingering)))
    return markup.element("notations", *marks) if marks else ""

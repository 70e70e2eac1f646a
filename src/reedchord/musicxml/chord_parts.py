"""What is to be written in place of a rest, note or chord: chords link by link, and rests."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from reedchord.musicxml import markup
from reedchord.musicxml.fragment import Node
from reedchord.pitch import Pitch
from reedchord.rhythm import NoteValue

GREY = "#808080"


class BarText(NamedTuple):
    """A bar's source text, its nodes, and where it begins in the document."""

    text: str
    node: Node
    start: int


class Notehead(NamedTuple):
    """How a notehead departs from an ordinary one."""

    shape: str = "normal"
    parentheses: bool = False
    color: str | None = None

    def markup(self) -> str:
        """Return the `<notehead>` element."""
        attributes = {"parentheses": "yes"} if self.parentheses else {}
        if self.color:
            attributes["color"] = self.color
        return markup.leaf("notehead", self.shape, **attributes)


class ChordNote(NamedTuple):
    """One note to be written: a pitch on the grid, its notehead where it is not ordinary.

    `ties` are of the types `stop` and `start`; a tied-to note shows no accidental.
    """

    pitch: Pitch
    notehead: Notehead | None = None
    ties: tuple[str, ...] = ()
    id: str | None = None

    @property
    def shows_accidental(self) -> bool:
        """Whether its accidental is written: where no tie leads to it."""
        return "stop" not in self.ties


class Hung(NamedTuple):
    """What hangs on a chord as a whole: it stands on the first note, or before it.

    `words` stand above its onset, `footnote` is editorial and not printed, `cents_lines`
    stand under it with the highest note's first; `directions` and `notations` are markup.
    """

    words: str | None = None
    footnote: str | None = None
    fingering: str | None = None
    cents_lines: tuple[str, ...] = ()
    directions: tuple[str, ...] = ()
    notations: tuple[str, ...] = ()


class Link(NamedTuple):
    """One chord, lowest note first, or a rest where it has no notes.

    `value` None keeps the length and the notation of the event that it takes the place of;
    `clears_ties` takes out ties of that event that lead elsewhere now. `is_half` says that it
    lasts half as long as its value, as each chord of a two-note tremolo does. `keeps_notes`
    leaves the notes of that event as they are, `notes` in their order, and only adds marks.
    """

    quarters: Fraction
    value: NoteValue | None
    notes: tuple[ChordNote, ...] = ()
    hung: Hung = Hung()
    clears_ties: bool = False
    is_half: bool = False
    keeps_notes: bool = False

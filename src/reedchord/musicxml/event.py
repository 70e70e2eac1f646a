"""A rest, a note or a chord as it stands in a bar."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING, TypeAlias

from reedchord.errors import InputError
from reedchord.musicxml.bar_state import signed_number
from reedchord.pitch import STEPS, Pitch

if TYPE_CHECKING:
    from lxml.etree import _Element

    Element: TypeAlias = _Element
    """A node of the score's tree, for annotations outside this package."""


@dataclass(frozen=True)
class Event:
    """A rest, a note or a chord in one voice.

    `children` are the places of its `<note>` elements among the bar's child elements.
    Times are in quarter notes, `onset_quarters` from the bar's start.
    """

    onset_quarters: Fraction
    duration_quarters: Fraction
    voice: str
    staff: str
    divisions: Fraction
    children: tuple[int, ...]
    notes: tuple[_Element, ...] = field(repr=False, compare=False)

    @property
    def first(self) -> _Element:
        """The `<note>` on which beams, lyrics and notations of the chord stand."""
        return self.notes[0]

    @cached_property
    def end_quarters(self) -> Fraction:
        """Where it ends, in quarter notes from the bar's start."""
        return self.onset_quarters + self.duration_quarters

    def covers(self, onset_quarters: Fraction) -> bool:
        """Whether a moment lies in it, its end not included."""
        return self.onset_quarters <= onset_quarters < self.end_quarters

    @property
    def is_rest(self) -> bool:
        """Whether it is silent."""
        return self.first.find("rest") is not None

    @property
    def is_cue(self) -> bool:
        """Whether it is a cue, which is for the eye only."""
        return self.first.find("cue") is not None

    @property
    def is_grace(self) -> bool:
        """Whether it is a grace note, which takes no time of its own."""
        return self.first.find("grace") is not None

    @property
    def is_pitched(self) -> bool:
        """Whether every note of it has a pitch."""
        return all(note.find("pitch") is not None for note in self.notes)

    def is_tied(self, way: str) -> bool:
        """Whether any of its notes has a tie of this type, `start` or `stop`."""
        return any(_has_tie(note, way) for note in self.notes)

    def is_wholly_tied(self, way: str) -> bool:
        """Whether every one of its notes has a tie of this type."""
        return all(_has_tie(note, way) for note in self.notes)

    @property
    def pitches(self) -> tuple[Pitch, ...]:
        """Its pitches as they are written; raises InputError where a note has none."""
        return tuple(pitch_of(note) for note in self.notes if note.find("rest") is None)


def _has_tie(note: _Element, way: str) -> bool:
    return any(
        tie.get("type") == way for tag in ("tie", "notations/tied") for tie in note.iterfind(tag)
    )


def pitch_of(note: _Element) -> Pitch:
    """Return the pitch of a `<note>`, `alter` exact; raises InputError where it has none."""
    element = note.find("pitch")
    step = (element.findtext("step") or "").strip() if element is not None else ""
    if element is None or len(step) != 1 or step not in STEPS:
        raise InputError("score.no-pitch", "a note has no readable <pitch>")
    try:
        return _pitch(step, element.findtext("octave") or "", element.findtext("alter") or "0")
    except InputError as error:
        raise InputError(
            "score.no-pitch", f"a note has no readable <pitch>: {error.message}"
        ) from None


@lru_cache(maxsize=1024)
def _pitch(step: str, octave_text: str, alter_text: str) -> Pitch:
    """Read a pitch; remembered, because a score has few, each many times."""
    octave = signed_number(octave_text, "octave")
    alter = signed_number(alter_text, "alter")
    if octave not in range(10):  # MusicXML 4.0, simple type octave
        raise InputError("score.number", f"<octave> is {octave}, not from 0 to 9")
    return Pitch(step, int(octave), 100 * alter)

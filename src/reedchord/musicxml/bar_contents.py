"""Whether a bar's element holds something at all, told fast, so that most need no reading."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lxml import etree

if TYPE_CHECKING:
    from lxml.etree import _Element

_TEMPO = etree.XPath(
    "boolean(.//sound[@tempo] | .//metronome | direction/direction-type/words)", smart_strings=False
)
_SLURS_OR_TREMOLOS = etree.XPath("boolean(note/notations/slur | note/notations/ornaments/tremolo)")
_CHORDS = etree.XPath("boolean(note/chord)")
_BEYOND = etree.XPath("boolean(note/pitch/octave[. < 4 or . > 5])")
_NOTE_IDS = etree.XPath("note/@id", smart_strings=False)
_NOTE_DYNAMICS = etree.XPath("boolean(note/notations/dynamics)")


def may_change_tempo(bar: _Element) -> bool:
    """Whether a bar holds a tempo, a metronome mark, or words that may be about it."""
    return bool(_TEMPO(bar))


def has_dynamics_on_notes(bar: _Element) -> bool:
    """Whether dynamics stand among a bar's notes rather than in directions."""
    return bool(_NOTE_DYNAMICS(bar))


def has_slurs_or_tremolos(bar: _Element) -> bool:
    """Whether slurs or tremolos stand on notes of a bar."""
    return bool(_SLURS_OR_TREMOLOS(bar))


def has_chords(bar: _Element) -> bool:
    """Whether a chord stands in a bar."""
    return bool(_CHORDS(bar))


def notes_beyond(bar: _Element) -> bool:
    """Whether a bar has notes outside the octaves that begin on C4 and C5."""
    return bool(_BEYOND(bar))


def note_ids(bar: _Element) -> list[str]:
    """Return the ids of the notes of a bar, in order."""
    found = _NOTE_IDS(bar)
    assert isinstance(found, list)  # as of every path to attributes
    return [str(name) for name in found]

"""Whether a bar's element holds something at all, told fast, so that most need no reading."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lxml import etree

if TYPE_CHECKING:
    from lxml.etree import _Element

_TEMPO = etree.XPath(
    "boolean(sound[@tempo] | direction/sound[@tempo] | direction/direction-type/metronome)"
)
_WORDS = etree.XPath("direction/direction-type/words/text()", smart_strings=False)
_SLURS_OR_TREMOLOS = etree.XPath("boolean(note/notations/slur | note/notations/ornaments/tremolo)")
_TIES = etree.XPath("boolean(note/tie | note/notations/tied)")
_CUES = etree.XPath("boolean(note/cue)")
_CHORDS = etree.XPath("boolean(note/chord)")
_OUTSIDE = etree.XPath("note[pitch/octave < $low or pitch/octave > $high]")
_MARKED = etree.XPath("note[@id or footnote]")
_NOTE_IDS = etree.XPath("note/@id", smart_strings=False)
_WITH_SLURS = etree.XPath("note[notations/slur]")
_DYNAMICS = etree.XPath(
    "boolean(direction/direction-type/dynamics | direction/direction-type/wedge |"
    " direction/direction-type/words | note/notations/dynamics)"
)
_JUMPS = etree.XPath("boolean(//barline/repeat | //barline/ending | //sound[@dacapo or @dalsegno])")
_SIGNS = etree.XPath("boolean(barline | sound | direction/sound)")
_NOTE_DYNAMICS = etree.XPath("boolean(note/notations/dynamics)")


def has_tempo(bar: _Element) -> bool:
    """Whether a tempo or a metronome mark stands in a bar."""
    return bool(_TEMPO(bar))


def word_texts(bar: _Element) -> list[str]:
    """Return the texts of all words above and below a bar."""
    return _strings(_WORDS(bar))


def has_dynamics_on_notes(bar: _Element) -> bool:
    """Whether dynamics stand among a bar's notes rather than in directions."""
    return bool(_NOTE_DYNAMICS(bar))


def may_change_dynamics(bar: _Element) -> bool:
    """Whether dynamics, wedges, or words that may be about them, stand in a bar."""
    return bool(_DYNAMICS(bar))


def notes_with_slurs(bar: _Element) -> list[_Element]:
    """Return the notes of a bar on which slurs begin or end."""
    return _elements(_WITH_SLURS(bar))


def has_slurs_or_tremolos(bar: _Element) -> bool:
    """Whether slurs or tremolos stand on notes of a bar."""
    return bool(_SLURS_OR_TREMOLOS(bar))


def has_chords(bar: _Element) -> bool:
    """Whether a chord stands in a bar."""
    return bool(_CHORDS(bar))


def notes_outside(bar: _Element, lowest_octave: int, highest_octave: int) -> list[_Element]:
    """Return the notes of a bar below or above octaves, as `<octave>` numbers them."""
    return _elements(_OUTSIDE(bar, low=lowest_octave, high=highest_octave))


def note_ids(bar: _Element) -> list[str]:
    """Return the ids of the notes of a bar, in order."""
    return _strings(_NOTE_IDS(bar))


def _strings(found: object) -> list[str]:
    assert isinstance(found, list)  # as of every path to texts
    return [str(text) for text in found]


def has_ties(bar: _Element) -> bool:
    """Whether a note of a bar is tied to another."""
    return bool(_TIES(bar))


def has_cues(bar: _Element) -> bool:
    """Whether a bar has cue notes."""
    return bool(_CUES(bar))


def marked_elements(bar: _Element) -> list[_Element]:
    """Return the notes of a bar that have an id or a footnote."""
    return _elements(_MARKED(bar))


def _elements(found: object) -> list[_Element]:
    assert isinstance(found, list)  # as of every path to elements
    return found


def has_jumps(score: _Element) -> bool:
    """Whether repeats, endings, da capo or dal segno stand anywhere in a score."""
    return bool(_JUMPS(score))


def may_hold_jumps(bar: _Element) -> bool:
    """Whether a bar has barlines of its own or sounds, which may be repeats or jumps."""
    return bool(_SIGNS(bar))

"""How placed accidentals make later notes of a bar read.

An accidental holds to the end of its bar for its line or space: common practice, no source.
"""

import pytest

from reedchord.musicxml.accidental_state import Signed, new_misreadings
from reedchord.musicxml.document import read_score
from reedchord.musicxml.part_music import PartMusic
from reedchord.pitch import parse_pitch
from samples import note, score


def misread(bar, *pitches, key=0, event=0):
    """Put pitches in place of an event, and return what is misread afterwards."""
    attributes = f"<attributes><key><fifths>{key}</fifths></key></attributes>"
    timeline = PartMusic(read_score(score(attributes + bar)).parts[0]).bar(0)
    gone = timeline.events[event]
    new = Signed(gone.onset_quarters, gone.staff, [parse_pitch(pitch) for pitch in pitches])
    wrong = new_misreadings(timeline, [gone], [new])
    return [f"{one.onset_quarters}: {one.pitch} as {one.read_as}" for one in wrong]


def signed(text, accidental, alter=None):
    if alter:
        text = text.replace("</step>", f"</step><alter>{alter}</alter>")
    return text.replace("</note>", f"<accidental>{accidental}</accidental></note>")


def test_a_later_note_on_the_same_line_reads_sharp():
    assert misread(note() + note("G4"), "G#4") == ["1: G4 as G#4"]


def test_a_quarter_tone_is_an_accidental_too():
    assert misread(note() + note("B4"), "Bqf4") == ["1: B4 as B4-50"]


@pytest.mark.parametrize(
    "later",
    [
        note("G5"),
        note("A4"),
        signed(note("G4"), "natural"),
        signed(note("G4"), "sharp", "1"),
        note("G4", more='<tie type="stop"/>'),
        note(),
        note("G4").replace("<note>", "<note><grace/>").replace("<duration>1</duration>", ""),
    ],
    ids=["octave", "line", "natural", "sharp", "tied", "rest", "grace"],
)
def test_what_reads_as_before(later):
    assert misread(note() + later, "G#4") == []


def test_a_note_with_its_own_accidental_ends_the_matter():
    bar = note() + signed(note("G4"), "natural") + note("G4")
    assert misread(bar, "G#4") == []


def test_a_note_before_the_place_is_safe():
    assert misread(note("G4") + note(), "G#4", event=1) == []


def test_the_key_signature_is_what_notes_read_by():
    sharp = note("F4").replace("</step>", "</step><alter>1</alter>")
    assert misread(note() + sharp, "F4", key=1) == ["1: F#4 as F4"]
    assert misread(note() + sharp, "F#4", key=1) == []


def test_a_natural_that_repeats_the_key_changes_nothing():
    assert misread(note() + note("G4"), "G4") == []


def test_a_chord_that_took_the_accidental_away_is_told():
    bar = signed(note("G4"), "sharp", "1") + note("G4").replace(
        "</step>", "</step><alter>1</alter>"
    )
    assert misread(bar, "A4") == ["1: G#4 as G4"]


def test_a_note_that_reads_wrongly_already_is_not_ours():
    wrong = note("G4").replace("</step>", "</step><alter>1</alter>")
    assert misread(note() + wrong, "A4") == []


def test_another_staff_has_its_own_accidentals():
    other = note("G4").replace("</note>", "<staff>2</staff></note>")
    assert misread(note() + other, "G#4") == []


def test_another_voice_of_the_staff_shares_them():
    back = "<backup><duration>1</duration></backup>"
    other = note("G4").replace("<voice>1", "<voice>2")
    assert misread(note() + note() + back + other, "G#4") == ["1: G4 as G#4"]

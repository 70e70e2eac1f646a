"""Staff pictures against music21's reading of the same pitches.

The line or space is measured in the drawing, from the lines of the staff to the notehead, and
compared with `diatonicNoteNum`: E4, the lowest line of the treble staff, is 31 there. The glyph
of the accidental is named by SMuFL, music21 names the alteration.
"""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from lxml import etree
from music21.pitch import Pitch as Music21Pitch

from reedchord.collection_reading import read_collection
from reedchord.demo_paths import COLLECTION, shipped_path
from reedchord.drawing.staff_picture import StaffTone, sonority_staff, staff_picture
from reedchord.pitch import STEPS, Pitch

E4 = 31
OCTAVES = {"22mb": -3, "15mb": -2, "8vb": -1, "8va": 1, "15ma": 2, "22ma": 3}
ACCIDENTALS = {
    "accidentalFlat": "flat",
    "accidentalQuarterToneFlatStein": "half-flat",
    "accidentalNatural": "natural",
    "accidentalQuarterToneSharpStein": "half-sharp",
    "accidentalSharp": "sharp",
}
SVG = "{http://www.w3.org/2000/svg}"
RECORDS = list(read_collection(shipped_path(COLLECTION)))


def texts(svg):
    return [text.text for text in etree.fromstring(svg).iter(f"{SVG}text")]


def notes(svg):
    """Return the note that music21 makes of each notehead: position and accidental as drawn."""
    paths = list(etree.fromstring(svg).iter(f"{SVG}path"))
    heights = sorted({float(y) for y in re.findall(r"M[\d.]+ (\S+?)H", paths[0].get("d"))})
    assert len(heights) == 5
    read = []
    accidental = None
    for path in paths:
        glyph = path.get("data-glyph") or ""
        if glyph in ACCIDENTALS:
            accidental = glyph
        if glyph.startswith("notehead"):
            y = float(re.match(r"translate\(\S+ (\S+?)\)", path.get("transform"))[1])
            number = E4 + (heights[4] - y) / (heights[1] - heights[0]) * 2
            assert number == int(number)
            pitch = Music21Pitch()
            pitch.step = STEPS[int(number - 1) % 7]
            pitch.octave = int(number - 1) // 7
            pitch.accidental = ACCIDENTALS[accidental]
            assert pitch.diatonicNoteNum == number
            read.append(pitch)
    return read


@pytest.mark.parametrize("octave", range(1, 9))
@pytest.mark.parametrize("step", STEPS)
@pytest.mark.parametrize("alteration", [-100, -61, -50, -20, 0, 25, 50, 80, 100])
def test_a_note_is_drawn_where_music21_reads_it(step, octave, alteration):
    pitch = Pitch(step, octave, Fraction(alteration))
    svg = staff_picture([StaffTone(1, pitch)]).svg
    label, *marks = texts(svg)
    (shown,) = notes(svg)
    shown.octave += sum(OCTAVES[mark] for mark in marks)
    left_over = Fraction(label.replace("−", "-"))
    assert Fraction(str(shown.ps)) * 100 + left_over == pitch.cents
    assert (shown.step == step) or alteration in {-61, 80}  # nearer to another letter's grid


@pytest.mark.parametrize("record", RECORDS, ids=lambda record: record.id)
@pytest.mark.parametrize("concert", [False, True], ids=["written", "concert"])
def test_chords_hold_the_notes_of_the_record(record, concert):
    """Octaves apart: which notes stand under an octave mark is tested with the layout."""
    svg = sonority_staff(record, concert=concert).svg
    labels = [Fraction(text.replace("−", "-")) for text in texts(svg) if text not in OCTAVES]
    pitches = record.concert_pitches if concert else record.written_pitches
    for shown, label, pitch in zip(notes(svg), labels, pitches, strict=True):
        apart = pitch.cents - Fraction(str(shown.ps)) * 100 - label
        assert abs((apart + 600) % 1200 - 600) <= Fraction(1, 2)  # labels are whole cents

"""Text on engraved pages: metronome marks, dynamics and fingerings as people read them."""

import xml.etree.ElementTree as ET

import pytest

from reedchord.drawing.engraving import MusicPaper
from reedchord.drawing.engraving_text import set_text_plainly
from reedchord.musicxml.document import read_score
from reedchord.pages.excerpt import BarRange, Excerpts
from samples import note, score

SVG = "{http://www.w3.org/2000/svg}"
PAPER = MusicPaper(width_mm=180, staff_mm=6)


def words_of(direction):
    whole = note("B4", 4, type_="whole")
    bar = f"<direction><direction-type>{direction}</direction-type></direction>{whole}"
    read = read_score(score(bar))
    (page,) = Excerpts(read, read.parts).draw(BarRange(0, 0), PAPER, title="A bar", key="e").pages
    root = ET.fromstring(page.svg)
    assert "@font-face" not in page.svg
    return ["".join("".join(text.itertext()).split()) for text in root.iter(f"{SVG}text")]


@pytest.mark.parametrize(
    ("unit", "words"),
    [
        ("<beat-unit>quarter</beat-unit>", "♩=60"),
        ("<beat-unit>quarter</beat-unit><beat-unit-dot/>", "♩.=60"),
        ("<beat-unit>half</beat-unit><beat-unit-dot/>", "half.=60"),
        ("<beat-unit>eighth</beat-unit>", "♪=60"),
        ("<beat-unit>16th</beat-unit>", "16th=60"),
    ],
)
def test_metronome_marks_need_no_font_of_music(unit, words):
    mark = f"<metronome>{unit}<per-minute>60</per-minute></metronome>"
    assert words in words_of(mark)


def test_a_dynamic_among_words_stays_a_dynamic():
    assert "mfespr" in words_of("<dynamics><other-dynamics>mf espr</other-dynamics></dynamics>")


def test_a_sign_without_letters_keeps_the_font_that_comes_with_the_page():
    font = '<style type="text/css">@font-face {}</style>'
    text = '<text><tspan font-family="Leipzig" font-size="720px">\ue047</tspan></text>'
    root = ET.fromstring(f'<svg xmlns="http://www.w3.org/2000/svg">{text}{font}</svg>')
    before = ET.tostring(root)
    set_text_plainly(root)
    assert ET.tostring(root) == before

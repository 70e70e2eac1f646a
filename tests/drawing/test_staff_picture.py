"""Staff thumbnails: what is black, what is under an octave mark, and that nothing collides."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lxml import etree

from reedchord.drawing.picture_files import PictureFormat, picture_bytes
from reedchord.drawing.staff_glyphs import GLYPHS
from reedchord.drawing.staff_layout import LABEL_SIZE, StaffTone, ledger_lines, staff_layout
from reedchord.drawing.staff_picture import (
    glyph_symbols,
    sonority_staff,
    staff_elements,
    staff_picture,
)
from reedchord.pitch import parse_pitch, pitch_from_cents
from samples import EGRET, HERON

SVG = "{http://www.w3.org/2000/svg}"
chords = st.lists(
    st.integers(4600, 10200), min_size=1, max_size=12, unique_by=lambda cents: cents // 60
).map(
    lambda heights: [
        StaffTone(number, pitch_from_cents(Fraction(cents)))
        for number, cents in enumerate(sorted(heights), start=1)
    ]
)


def tones(*pitches):
    return [StaffTone(number, parse_pitch(text)) for number, text in enumerate(pitches, start=1)]


def glyphs(picture):
    root = etree.fromstring(picture.svg)
    return [path.get("data-glyph") for path in root.iter(f"{SVG}path") if path.get("data-glyph")]


def marks(layout):
    return [mark.text for mark in layout.marks]


def test_the_emphasised_tone_is_black_and_the_others_are_outlines():
    heads = [name for name in glyphs(sonority_staff(HERON)) if name.startswith("notehead")]
    assert heads == ["noteheadHalf", "noteheadBlack", "noteheadHalf"]
    other = [name for name in glyphs(sonority_staff(HERON, emphasised=3)) if "head" in name]
    assert other == ["noteheadHalf", "noteheadHalf", "noteheadBlack"]


def test_all_are_black_where_none_is_emphasised():
    heads = [name for name in glyphs(sonority_staff(EGRET)) if name.startswith("notehead")]
    assert heads == ["noteheadBlack"] * 2


def test_words_for_those_who_do_not_see_it():
    picture = sonority_staff(HERON)
    assert picture.title == "heron, written pitch"
    assert picture.words == "E4 −19¢, B4 −36¢ (emphasised), G♯5 −12¢"


def test_every_tone_has_its_accidental_and_its_cents():
    picture = staff_picture(tones("D4", "F#4-12", "Bqf4+14"))
    assert [name for name in glyphs(picture) if name.startswith("accidental")] == [
        "accidentalNatural",
        "accidentalSharp",
        "accidentalQuarterToneFlatStein",
    ]
    root = etree.fromstring(picture.svg)
    assert [text.text for text in root.iter(f"{SVG}text")] == ["0", "−12", "+14"]


@pytest.mark.parametrize(
    ("pitches", "expected"),
    [
        (["A3", "F6"], []),
        (["G6"], ["8va"]),
        (["G3"], ["8vb"]),
        (["G3", "G6"], ["8vb", "8va"]),
        (["D2", "A2", "F3"], ["15mb"]),
        (["Bb3", "G6", "C7"], ["8va"]),
    ],
)
def test_octave_marks_far_out(pitches, expected):
    """Above F6 and below A3; a chord that fits whole under one mark is not taken apart."""
    layout = staff_layout(tones(*pitches))
    assert marks(layout) == expected
    for note in layout.notes:
        assert note.position == note.shown.staff_position - 7 * note.octave_shift


def test_octave_marks_cover_only_their_notes():
    layout = staff_layout(tones("Bb3", "F5", "G6", "C7"))
    (mark,) = layout.marks
    assert [note.octave_shift for note in layout.notes] == [0, 0, 1, 1]
    assert layout.notes[1].x < mark.left < layout.notes[2].x < mark.right


@given(chords, st.booleans())
def test_no_note_needs_more_than_three_ledger_lines(chord, side_by_side):
    for note in staff_layout(chord, side_by_side=side_by_side).notes:
        assert len(list(ledger_lines(note))) <= 3


@given(chords, st.booleans())
def test_nothing_collides_and_all_is_inside(chord, side_by_side):
    layout = staff_layout(chord, side_by_side=side_by_side)
    heads, accidentals = [], []
    for note in layout.notes:
        heads.append(_box("noteheadBlack", note.x, note.y))
        accidentals.append(_box(note.accidental, note.accidental_x, note.y))
        assert layout.top <= note.label_y - LABEL_SIZE * 0.7
        assert note.label_y <= layout.bottom
        assert layout.top <= note.y <= layout.bottom
    assert max(box[2] for box in heads) <= layout.width
    for number, box in enumerate(accidentals):
        assert not any(_overlap(box, other) for other in heads)
        assert not any(_overlap(box, other) for other in accidentals[:number])


def _box(name, x, y):
    glyph = GLYPHS[name]
    scale = 10 / 250
    return x, y - glyph.top * scale, x + glyph.width * scale, y - glyph.bottom * scale


def _overlap(one, other):
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


@given(chords)
def test_labels_of_a_chord_stand_in_the_order_of_its_tones(chord):
    layout = staff_layout(chord)
    for lower, upper in zip(layout.notes, layout.notes[1:], strict=False):
        if lower.octave_shift == upper.octave_shift:
            assert lower.label_y - upper.label_y >= 0.8 * LABEL_SIZE


@given(chords, st.booleans())
def test_the_same_tones_give_the_same_bytes(chord, side_by_side):
    first = staff_picture(chord, emphasised=1, side_by_side=side_by_side)
    assert first == staff_picture(chord, emphasised=1, side_by_side=side_by_side)
    etree.fromstring(first.svg)


def test_drawn_by_reference_it_needs_only_the_symbols():
    symbols = etree.fromstring("<svg>" + "".join(glyph_symbols()) + "</svg>")
    drawn = "".join(staff_elements(staff_layout(tones("C4", "F#6+20")), 1, by_reference=True))
    used = {use.get("href")[1:] for use in etree.fromstring(f"<svg>{drawn}</svg>").iter("use")}
    assert used <= {symbol.get("id") for symbol in symbols}
    assert {"gClef", "noteheadHalf", "noteheadBlack"} < used


def test_a_second_renderer_draws_it():
    picture = sonority_staff(HERON)
    png = picture_bytes(
        picture.svg,
        PictureFormat.PNG,
        width_mm=picture.width_mm,
        height_mm=picture.height_mm,
        dots_per_inch=150,
    )
    assert png.startswith(b"\x89PNG")

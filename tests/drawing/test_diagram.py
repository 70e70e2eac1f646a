"""Pictures of fingerings: every pressed key is there, black, once, and named."""

import io
from itertools import combinations
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lxml import etree
from PIL import Image

from reedchord.drawing.diagram import (
    COLUMN_MM_PER_UNIT,
    DiagramSize,
    column_diagram,
    diagram_size,
    fingering_diagram,
    sonority_diagram,
)
from reedchord.drawing.diagram_layout import (
    MARGIN,
    stacked_layout,
    strip_layout,
    text_width,
    wide_layout,
)
from reedchord.drawing.picture_files import PictureFormat, picture_bytes, picture_format
from reedchord.errors import RequestError
from reedchord.fingering import Amount, Fingering
from reedchord.fingering_text import parse_fingering
from reedchord.keywork import KEYS, Group
from reedchord.saxophones import saxophone
from samples import BITTERN, sonority

GOLDEN = Path(__file__).parents[1] / "golden"
SVG = "{http://www.w3.org/2000/svg}"
NOTHING = Fingering()
EVERYTHING = Fingering(tuple((name, Amount.FULL) for name in KEYS))
PARTLY = parse_fingering(
    "octave | left 1 slightly 2 half 3, half palm F, G sharp | right half 1 3, side E, low C"
)
FORMS = [(size, strip) for size in DiagramSize for strip in (False, True)]
LAYOUTS = [wide_layout, stacked_layout, strip_layout]

fingerings = st.dictionaries(st.sampled_from(list(KEYS)), st.sampled_from(list(Amount))).map(
    lambda pressed: Fingering(tuple(pressed.items()))
)


def tree(svg):
    return etree.fromstring(svg.encode("utf-8"))


def texts(svg):
    return ["".join(text.itertext()) for text in tree(svg).iter(f"{SVG}text")]


@given(fingerings, st.sampled_from(FORMS))
def test_every_pressed_key_is_drawn_once_and_named(fingering, form):
    size, strip = form
    diagram = fingering_diagram(fingering, size=size, strip=strip)
    keys = tree(diagram.svg).findall(f"{SVG}g")
    pressed = [(k.get("data-key"), k.get("class")) for k in keys if k.get("class") != "lifted"]
    assert sorted(pressed) == sorted((n, f"pressed {a}") for n, a in fingering.pressed)
    shown = texts(diagram.svg)
    assert sorted(text for text in shown if text.isdigit()) == ["1", "1", "2", "2", "3", "3"]
    for name, amount in fingering.pressed:
        key = KEYS[name]
        before = "" if amount is Amount.FULL else f"{amount} "
        assert before + str(key.number or name) in diagram.words
        assert key.number or shown.count(before + key.short()) == 1


@given(fingerings, st.sampled_from(FORMS))
def test_what_is_lifted_is_drawn_only_for_the_main_keys_and_the_octave_key(fingering, form):
    size, strip = form
    keys = tree(fingering_diagram(fingering, size=size, strip=strip).svg).findall(f"{SVG}g")
    always = {name for name, key in KEYS.items() if key.group is Group.MAIN} | {"octave"}
    lifted = {key.get("data-key") for key in keys if key.get("class") == "lifted"}
    assert lifted == always - set(fingering.keys)


def boxes(layout):
    for pad in layout.pads:
        yield pad.x, pad.y, pad.x + pad.width, pad.y + pad.height
    for word in layout.words:
        if not word.centred:  # finger numbers stand on their pads
            width = text_width(word.text, word.size)
            yield word.x, word.y - 0.7 * word.size, word.x + width, word.y + 0.22 * word.size


@pytest.mark.parametrize("layout_of", LAYOUTS)
@given(fingering=fingerings)
def test_nothing_lies_over_anything_else_or_leaves_the_picture(layout_of, fingering):
    layout = layout_of(fingering)
    drawn = list(boxes(layout))
    for left, top, right, bottom in drawn:
        assert MARGIN <= left < right <= layout.width
        assert MARGIN <= top < bottom <= layout.height
    for one, other in combinations(drawn, 2):
        apart = one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]
        assert apart, (one, other)


@pytest.mark.parametrize("layout_of", LAYOUTS)
def test_hands_and_fingers_stand_where_the_player_has_them(layout_of):
    pads = {pad.key.name: pad for pad in layout_of(PARTLY).pads}
    for first, second, third in ("BAG", "FED"):
        assert pads[first].x < pads[second].x < pads[third].x
        assert pads[first].y < pads[second].y < pads[third].y
    assert pads["octave"].x < pads["B"].x
    assert pads["G"].x < pads["G sharp"].x
    assert pads["D"].x < pads["low C"].x
    if layout_of is not strip_layout:
        assert pads["palm F"].y < pads["A"].y < pads["G sharp"].y
        assert pads["side E"].y < pads["E"].y < pads["low C"].y


@pytest.mark.parametrize(
    ("size", "strip", "height_mm"),
    [("footnote", False, 12), ("text", False, 20), ("footnote", True, 5), ("text", True, 8)],
)
@pytest.mark.parametrize("fingering", [NOTHING, PARTLY, EVERYTHING])
def test_one_size_has_one_height_whatever_is_pressed(size, strip, height_mm, fingering):
    diagram = fingering_diagram(fingering, size=DiagramSize(size), strip=strip)
    root = tree(diagram.svg)
    assert root.get("height") == f"{height_mm}mm"
    assert root.get("width") == f"{diagram.width_mm:g}mm"
    _, _, width, height = map(float, root.get("viewBox").split())
    assert diagram.width_mm / diagram.height_mm == pytest.approx(width / height, rel=0.01)


@pytest.mark.parametrize("fingering", [NOTHING, PARTLY, EVERYTHING])
def test_a_page_is_filled_and_not_left(fingering):
    """A4 is 210 by 297 mm (ISO 216), Letter 216 by 279 mm (from memory)."""
    diagram = fingering_diagram(fingering, size=DiagramSize.PAGE)
    assert diagram.width_mm == 170
    assert diagram.height_mm <= 240


def test_diagrams_in_a_column_have_one_scale_unless_they_would_not_fit():
    usual, crowded = (
        column_diagram(sonority("reed", "E4", fingering=fingering), 49)
        for fingering in ("left 1 | right 1", "left 1, bis, front F, palm D, palm F, low B, low Bb")
    )
    layout = stacked_layout(parse_fingering("left 1 | right 1"))
    assert usual.width_mm == pytest.approx(layout.width * COLUMN_MM_PER_UNIT, abs=0.01)
    assert crowded.width_mm == 49
    assert column_diagram(BITTERN, 20).width_mm == 20


def test_a_person_who_hears_the_picture_gets_title_and_words():
    """SVG 2, chapter 5: `title` is the name, `desc` the description; the first child counts."""
    root = tree(sonority_diagram(BITTERN).svg)
    assert root.get("role") == "img"
    assert [(child.tag, child.text) for child in root[:2]] == [
        (f"{SVG}title", "Fingering of bittern, tenor saxophone"),
        (f"{SVG}desc", "left hand 1, 2 and 3; right hand 1 and 2"),
    ]


def test_names_with_signs_of_xml_stay_text():
    svg = fingering_diagram(NOTHING, name='<"Reed" & bed>').svg
    assert tree(svg).findtext(f"{SVG}title") == 'Fingering of <"Reed" & bed>'


def test_only_black_and_white_and_nothing_from_elsewhere():
    root = tree(fingering_diagram(PARTLY).svg)
    colours = {node.get(name) for node in root.iter() for name in ("fill", "stroke")}
    assert colours == {None, "#000", "#fff"}
    assert not root.xpath("//@id | //@href | //@style")


def test_the_golden_picture():
    diagram = fingering_diagram(PARTLY, saxophone=saxophone("alto"), name="Reedbed")
    assert diagram.svg == (GOLDEN / "diagram-partly-pressed.svg").read_text("utf-8")


def test_a_key_that_the_saxophone_lacks_is_refused():
    low_a = parse_fingering("low A | left 1")
    with pytest.raises(RequestError, match="low A: no alto saxophone has it"):
        fingering_diagram(low_a, saxophone=saxophone("alto"))
    assert "low A" in texts(fingering_diagram(low_a, saxophone=saxophone("baritone")).svg)
    assert "low A" in texts(fingering_diagram(low_a).svg)


def test_sizes_and_formats_by_name():
    assert diagram_size("page") is DiagramSize.PAGE
    assert picture_format(Path("a.b/M1.PDF")) is PictureFormat.PDF
    with pytest.raises(RequestError) as size:
        diagram_size("footnotes")
    assert size.value.hint == "Did you mean footnote?"
    with pytest.raises(RequestError, match=r"a picture cannot be written to .*\.gif"):
        picture_format(Path("M1.gif"))
    with pytest.raises(RequestError, match="a picture cannot be written to"):
        picture_format(Path("M1"))


def made(diagram, kind, **options):
    return picture_bytes(
        diagram.svg,
        kind,
        width_mm=diagram.width_mm,
        height_mm=diagram.height_mm,
        title=diagram.title,
        words=diagram.words,
        **options,
    )


FORM_AND_LAYOUT = [
    (DiagramSize.TEXT, False, wide_layout),
    (DiagramSize.PAGE, False, stacked_layout),
    (DiagramSize.TEXT, True, strip_layout),
]


@settings(max_examples=15, deadline=None)
@given(fingerings, st.sampled_from(FORM_AND_LAYOUT))
def test_a_renderer_shows_pressed_keys_dark_and_lifted_ones_light(fingering, form):
    """Drawn by typst's own SVG reader, which is none of ours."""
    size, strip, layout_of = form
    png = made(fingering_diagram(fingering, size=size, strip=strip), PictureFormat.PNG)
    picture, layout = Image.open(io.BytesIO(png)).convert("L"), layout_of(fingering)

    def is_dark(pad, across, down):
        x = (pad.x + across * pad.width) / layout.width * picture.width
        y = (pad.y + down * pad.height) / layout.height * picture.height
        return picture.getpixel((int(x), int(y))) < 128

    for pad in layout.pads:
        assert is_dark(pad, 0.5, 0.85) is (pad.amount is not None)
        assert is_dark(pad, 0.5, 0.65) is (pad.amount in (Amount.FULL, Amount.HALF))
        assert is_dark(pad, 0.8, 0.3) is (pad.amount is Amount.FULL)


def test_files_have_the_size_of_the_picture_and_the_same_bytes_each_time():
    diagram = fingering_diagram(PARTLY, size=DiagramSize.FOOTNOTE)
    png = made(diagram, PictureFormat.PNG)
    wanted = diagram.width_mm / 25.4 * 300, 12 / 25.4 * 300  # an inch is 25.4 mm
    assert Image.open(io.BytesIO(png)).size == pytest.approx(wanted, abs=1)
    assert Image.open(io.BytesIO(made(diagram, PictureFormat.PNG, dots_per_inch=150))).size < (
        wanted
    )
    pdf = made(diagram, PictureFormat.PDF)
    assert pdf.startswith(b"%PDF-")
    assert (png, pdf) == (made(diagram, PictureFormat.PNG), made(diagram, PictureFormat.PDF))
    assert made(diagram, PictureFormat.SVG) == diagram.svg.encode("utf-8")
    assert fingering_diagram(PARTLY, size=DiagramSize.FOOTNOTE) == diagram

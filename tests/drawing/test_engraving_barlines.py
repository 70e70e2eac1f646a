"""Barlines give way to fingerings: no upright line goes through a line of keys."""

import re
import xml.etree.ElementTree as ET

from reedchord.demo import demo_files
from reedchord.drawing.engraving_barlines import break_barlines
from reedchord.pages.preview import preview

SVG = "{http://www.w3.org/2000/svg}"
LINE = re.compile(r"M([\d.]+) ([\d.]+) L([\d.]+) ([\d.]+)")
PAGE = """<svg xmlns="http://www.w3.org/2000/svg">
<g class="fing"><text x="1000" y="2000" text-anchor="middle" font-size="0px">
<tspan font-size="300px">{words}</tspan></text></g>
<g class="barLine"><path d="M{x} 500 L{x} 1200" stroke-width="27"/>
<path d="M{x} 1200 L{x} 3000" stroke-width="27"/><path d="M{x} 3000 L{x} 3700"/></g></svg>"""


def lines(words, x):
    page = ET.fromstring(PAGE.format(words=words, x=x))
    break_barlines(page)
    return [path.get("d") for path in page.iter(f"{SVG}path")]


def test_the_line_between_the_staves_is_broken_where_the_text_stands():
    above, *between, below = lines("L 1 2 3 | R 1 - 3", 1200)
    assert (above, below) == ("M1200 500 L1200 1200", "M1200 3000 L1200 3700")
    (top, end), (start, bottom) = (
        [float(n) for n in LINE.match(d).groups()[1::2]] for d in between
    )
    assert (top, bottom) == (1200, 3000)
    # Letters of 300 units on the line 2000: capitals reach up to about 1790.
    assert end < 1790
    assert start > 2000


def test_a_line_beside_the_text_stays_whole():
    assert lines("L 1", 1500) == [
        "M1500 500 L1500 1200", "M1500 1200 L1500 3000", "M1500 3000 L1500 3700",
    ]  # fmt: skip


def test_no_fingering_of_the_demonstration_is_crossed():
    page = ET.fromstring(preview(demo_files()[0].data).bars[0].stages[0].pages[0].svg)
    barlines = [g for g in page.iter(f"{SVG}g") if g.get("class") == "barLine"]
    uprights = [
        tuple(map(float, found.groups()))
        for barline in barlines
        for path in barline.iter(f"{SVG}path")
        if (found := LINE.fullmatch(path.get("d")))
    ]
    fingerings = [g for g in page.iter(f"{SVG}g") if g.get("class") == "fing"]
    assert len(fingerings) == 6
    for fingering in fingerings:
        (text,) = fingering.iter(f"{SVG}text")
        x, y = float(text.get("x")), float(text.get("y"))
        # A digit is half as wide as high in most text faces (common practice, no source).
        half = len("".join(text.itertext()).strip()) * 0.5 * 303 / 2
        crossing = [
            line
            for line in uprights
            if x - half < line[0] < x + half and line[1] < y - 100 < line[3]
        ]
        assert crossing == []

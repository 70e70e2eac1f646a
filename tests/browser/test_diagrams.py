"""Fingering diagrams in Chromium, which sets their words in fonts of its own."""

from itertools import combinations, product
from pathlib import Path

import pytest

from reedchord.drawing.diagram import DiagramSize, fingering_diagram
from reedchord.fingering import Amount, Fingering
from reedchord.fingering_text import parse_fingering
from reedchord.keywork import KEYS

EVERYTHING = Fingering(tuple((name, Amount.HALF) for name in KEYS))
USUAL = parse_fingering("octave | left 1 half 2 3, G sharp | right 1 3, side E, low C")
BOXES = """() => {
    const box = e => { const r = e.getBoundingClientRect();
        return [r.left, r.top, r.right, r.bottom] };
    const svg = document.querySelector("svg");
    const names = [...svg.querySelectorAll("text:not([text-anchor])")];
    return [box(svg), names.map(box), [...svg.querySelectorAll("g")].map(box)];
}"""


@pytest.mark.parametrize("strip", [False, True])
@pytest.mark.parametrize("size", DiagramSize)
@pytest.mark.parametrize("fingering", [USUAL, EVERYTHING], ids=["usual", "everything"])
def test_names_stand_apart_from_keys_and_from_each_other(tmp_path, page_of, fingering, size, strip):
    diagram = fingering_diagram(fingering, size=size, strip=strip)
    path = Path(tmp_path, "diagram.html")
    path.write_text(f'<!DOCTYPE html><html lang="en"><title>D</title>{diagram.svg}</html>', "utf-8")
    frame, names, pads = page_of(path).evaluate(BOXES)
    assert frame[3] - frame[1] == pytest.approx(diagram.height_mm / 25.4 * 96, abs=0.1)
    line = max(bottom - top for _, top, _, bottom in names)
    for left, _, right, _ in names:
        assert frame[0] <= left < right <= frame[2]
    for one, other in [*combinations(names, 2), *product(names, pads)]:
        across = min(one[2], other[2]) - max(one[0], other[0])
        down = min(one[3], other[3]) - max(one[1], other[1])
        # A box of letters is as high as their font's line, a third more than what is drawn.
        assert across <= 0 or down <= line / 3

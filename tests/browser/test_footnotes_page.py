"""Footnotes in Chromium: the page, its print on A4 and Letter, and the SVG block."""

import io
from itertools import combinations, product
from pathlib import Path

import pytest
from pypdf import PdfReader

from long_scores import long_score
from reedchord.pages.footnotes import footnotes_of
from reedchord.pages.footnotes_html import as_html
from reedchord.pages.footnotes_svg import as_svg


@pytest.fixture(scope="module")
def twelve():
    return footnotes_of(long_score(12))


@pytest.fixture
def path(tmp_path, twelve):
    path = Path(tmp_path, "footnotes.html")
    path.write_text(as_html(twelve), "utf-8")
    return path


@pytest.mark.parametrize("width", [1280, 400, 320])
def test_the_page_has_no_problems_on_screen(
    path, width, page_of, requests_of, axe_violations, html_problems
):
    page = page_of(path, width=width)
    assert requests_of(page) == []
    assert axe_violations(page) == []
    assert html_problems(path) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= width


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_print_repeats_the_headings_and_tears_no_entry(path, paper, page_of, twelve):
    printed = page_of(path).pdf(format=paper)
    texts = ["".join(p.extract_text().split()) for p in PdfReader(io.BytesIO(printed)).pages]
    assert len(texts) > 2
    for number, text in enumerate(texts, start=1):
        assert "LabelFingeringSonority" in text
        assert f"{number}/{len(texts)}" in text
    for note in twelve:
        begins = "".join(note.title.split())
        ends = "".join(note.places[-1].split())
        assert any(begins in text and ends in text for text in texts), note.label


@pytest.mark.parametrize("width_mm", [170, 95])
def test_no_words_of_the_svg_block_leave_it(tmp_path, page_of, twelve, width_mm):
    """Chromium measures its own letters; no words lie over others or over a diagram."""
    block = as_svg(twelve, width_mm)
    path = Path(tmp_path, "block.html")
    path.write_text(
        f'<!DOCTYPE html><html lang="en"><title>Block</title>{block.svg}</html>', "utf-8"
    )
    frame, boxes, words, diagrams = page_of(path).evaluate(
        """() => {
            const box = e => { const r = e.getBoundingClientRect();
                return [r.left, r.top, r.right, r.bottom] };
            const svg = document.querySelector("svg");
            const all = name => [...svg.querySelectorAll(name)].map(box);
            return [box(svg), all("text"), all(":scope > text"), all(":scope > g")];
        }"""
    )
    assert frame[2] - frame[0] == pytest.approx(width_mm / 25.4 * 96, abs=0.1)
    assert len(boxes) > 4 * len(twelve)
    for left, top, right, bottom in boxes:
        assert frame[0] - 0.5 <= left < right <= frame[2]
        # A box of letters is as high as their font's line, a little more than what is drawn.
        assert frame[1] - 3 <= top < bottom <= frame[3] + 3
    for one, other in [*combinations(words, 2), *product(words, diagrams)]:
        across = min(one[2], other[2]) - max(one[0], other[0])
        down = min(one[3], other[3]) - max(one[1], other[1])
        assert across <= 0.5 or down <= 3

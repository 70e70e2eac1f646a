"""The sheet in Chromium: on a tablet, filled in, and printed on A4 and Letter."""

import io
from pathlib import Path

import pytest
from pypdf import PdfReader

from reedchord import read_collection
from reedchord.demo import demo_files
from reedchord.demo_paths import COLLECTION, shipped_path
from reedchord.pages.sheet import meeting_sheet
from reedchord.pages.sheet_page import sheet_page


@pytest.fixture(scope="module")
def sheet():
    return meeting_sheet(demo_files()[0].data, read_collection(shipped_path(COLLECTION)))


@pytest.fixture
def path(tmp_path, sheet):
    path = Path(tmp_path, "sheet.html")
    path.write_text(sheet_page(sheet), "utf-8")
    return path


@pytest.mark.parametrize("width", [1024, 768, 390])
def test_the_page_has_no_problems_on_a_tablet(path, width, page_of, requests_of, axe_violations):
    page = page_of(path, width=width)
    assert requests_of(page) == []
    assert axe_violations(page) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_the_html_checker_finds_nothing(path, html_problems):
    assert html_problems(path) == []


def test_a_player_ticks_and_writes(path, page_of):
    page = page_of(path, width=1024)
    page.get_by_label("Mouthpiece").fill("hard rubber, wide")
    section = page.locator("#M2")
    section.get_by_label("spoke after a try").check()
    section.get_by_label("M2, tone 3, A5 +24¢, came at f", exact=True).check()
    section.get_by_label("Comments").fill("needs a softer reed")
    assert section.locator("input:checked").count() == 2
    assert page.locator("input:checked").count() == 2


def test_boxes_are_large_enough_for_a_finger(path, page_of):
    """At least 18 pixels, and a row at least 24 high: WCAG 2.2, success criterion 2.5.8."""
    page = page_of(path, width=768)
    sizes = page.evaluate(
        "[...document.querySelectorAll('.came td')]"
        ".map(cell => [cell.offsetWidth, cell.offsetHeight])"
    )
    assert min(min(pair) for pair in sizes) >= 24


def test_every_picture_is_drawn(path, page_of):
    page = page_of(path, width=1024)
    undrawn = page.evaluate(
        "[...document.images].filter(i => !i.complete || !i.naturalWidth).length"
    )
    assert undrawn == 0
    assert page.evaluate("document.images.length") == 7


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_each_sonority_begins_a_page_of_the_print(path, paper, page_of, sheet):
    printed = page_of(path).pdf(format=paper)
    texts = ["".join(p.extract_text().split()) for p in PdfReader(io.BytesIO(printed)).pages]
    for entry in sheet.sonorities:
        start = f"{entry.label}{entry.name}".replace(" ", "")
        assert any(text.startswith(start) for text in texts), entry.label
    assert "startplaybackatlowvolume" in texts[-1]


def test_the_print_on_a4_is_one_page_for_each_sonority(path, page_of, sheet):
    printed = page_of(path).pdf(format="A4", margin=None)
    assert len(PdfReader(io.BytesIO(printed)).pages) == 1 + len(sheet.sonorities)

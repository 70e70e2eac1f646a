"""The sheet of fingerings to try in Chromium: on a tablet, filled in, and printed."""

import io
from pathlib import Path

import pytest
from pypdf import PdfReader

from reedchord.exploring.explore import explore
from reedchord.exploring.ordinary_fingerings import ordinary_fingering
from reedchord.pages.explore_sheet import sheet_html, try_sheet
from reedchord.pitch import parse_pitch
from reedchord.saxophones import saxophone

ALTO = saxophone("alto")
FOUND = explore(ordinary_fingering(parse_pitch("G4"), ALTO), ALTO, start="G4", most=24)


@pytest.fixture
def path(tmp_path):
    path = Path(tmp_path, "try.html")
    path.write_text(sheet_html(try_sheet(FOUND)), "utf-8")
    return path


@pytest.mark.parametrize("width", [1024, 390])
def test_the_page_has_no_problems(path, width, page_of, requests_of, axe_violations):
    page = page_of(path, width=width)
    assert requests_of(page) == []
    assert axe_violations(page) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_the_html_checker_finds_nothing(path, html_problems):
    assert html_problems(path) == []


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_no_entry_is_torn_in_print(path, paper, page_of):
    pages = PdfReader(io.BytesIO(page_of(path).pdf(format=paper))).pages
    texts = ["".join(page.extract_text().split()) for page in pages]
    for text in texts:
        assert text.count("didnotspeak") == text.count("Tones,dynamics,remarks")
    for one in FOUND.to_try:
        assert any("".join(one.words().split()) in text for text in texts), one.words()

"""Previews in Chromium, the second renderer of their SVG beside the typesetter's."""

import io
from pathlib import Path

import pytest
from PIL import Image

from reedchord.demo import demo_files
from reedchord.pages.preview import preview
from reedchord.pages.preview_files import PreviewFormat, preview_bytes, preview_picture

PLACED = demo_files()[0].data


@pytest.fixture
def path(tmp_path):
    path = Path(tmp_path, "preview.html")
    made = preview(PLACED, bars="5,8-9", parts=["P2", "P4"], before_after=True)
    path.write_bytes(preview_bytes(made, PreviewFormat.HTML))
    return path


@pytest.mark.parametrize("width", [1280, 768, 390])
def test_the_page_has_no_problems_on_screen(path, width, page_of, requests_of, axe_violations):
    page = page_of(path, width=width)
    assert requests_of(page) == []
    assert axe_violations(page) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_the_html_checker_finds_nothing(path, html_problems):
    assert html_problems(path) == []


def test_chromium_and_the_typesetter_draw_the_same(tmp_path, page_of):
    """Compared coarsely, as the faces of the words differ: where there is ink in both."""
    made = preview(PLACED, bars="5-6", parts=["P2"])
    picture = preview_picture(made)
    path = Path(tmp_path, "picture.html")
    path.write_text(
        "<!DOCTYPE html><style>body { margin: 0 } svg { display: block }</style>" + picture.svg,
        "utf-8",
    )
    shot = page_of(path).locator("svg").first.screenshot()
    ours = preview_bytes(made, PreviewFormat.PNG)
    cells = [
        list(Image.open(io.BytesIO(data)).convert("L").resize((24, 16)).tobytes())
        for data in (shot, ours)
    ]
    gaps = [abs(one - other) for one, other in zip(*cells, strict=True)]
    assert max(max(column) - min(column) for column in cells) > 40
    assert sum(gaps) / len(gaps) < 6

"""Previews: what they show, in every format."""

import io
import re

import pytest
from lxml import etree
from PIL import Image, ImageChops
from pypdf import PdfReader

from reedchord.demo import demo_files
from reedchord.drawing.paper import Paper
from reedchord.drawing.picture_files import PictureFormat, picture_bytes
from reedchord.errors import RequestError
from reedchord.pages.preview import preview
from reedchord.pages.preview_files import PreviewFormat, preview_bytes, preview_picture
from reedchord.placement.place import place
from samples import COLLECTION, RESTS, at, note, score

PLACED = demo_files()[0].data
SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def around():
    return preview(PLACED)


def test_without_bars_it_shows_those_around_the_sonorities(around):
    assert around.title == "Harbour Lights"
    assert [bars.heading for bars in around.bars] == ["Bars 2 to 12"]
    assert around.bars[0].captions[0] == (
        "M1  Ferry bell: Tenor Saxophone, bar 3, beat 3, only tones 1, 2 and 3, tone 3 emphasised"
    )
    assert len(around.bars[0].captions) == 7


def test_before_and_after_stand_above_each_other_and_only_one_is_marked():
    made = preview(PLACED, bars="5", parts=["Alto Saxophone"], before_after=True)
    (bars,) = made.bars
    assert [stage.heading for stage in bars.stages] == ["Before", "With the sonorities"]
    before, after = (stage.pages[0] for stage in bars.stages)
    assert "placement-mark" not in before.svg
    assert "placement-mark" in after.svg
    heads = [len(re.findall(r'class="notehead"', page.svg)) for page in (before, after)]
    assert heads == [0, 3]  # a whole bar of rest, and three tones


def test_bars_without_a_sonority_are_shown_and_nothing_is_said_of_marks():
    made = preview(PLACED, bars="1", parts=["P1"])
    assert made.placements == 0
    assert "Corners" not in preview_picture(made).svg


def test_the_picture_is_well_formed_and_its_ids_are_its_own(around):
    root = etree.fromstring(preview_picture(around).svg.encode())
    ids = [element.get("id") for element in root.iter() if element.get("id")]
    assert len(ids) == len(set(ids)) > 0
    used = {use.get("{http://www.w3.org/1999/xlink}href")[1:] for use in root.iter(f"{SVG}use")}
    assert used <= set(ids)


def test_the_same_score_gives_the_same_bytes(around):
    for kind in PreviewFormat:
        assert preview_bytes(around, kind) == preview_bytes(preview(PLACED), kind)


def test_the_marks_survive_without_grey():
    """Black and white alone: what changes between marked and plain music is pure black."""
    picture = preview_picture(preview(PLACED, bars="5", parts=["P2"]))
    plain = re.sub(r'<path d="[^"]*" fill="none" stroke="#000"[^>]*/>', "", picture.svg)
    assert plain != picture.svg
    images = [
        Image.open(
            io.BytesIO(
                picture_bytes(
                    svg,
                    PictureFormat.PNG,
                    width_mm=picture.width_mm,
                    height_mm=picture.height_mm,
                    dots_per_inch=200,
                )
            )
        )
        .convert("L")
        .point(lambda level: 255 * (level > 127))
        for svg in (picture.svg, plain)
    ]
    assert ImageChops.difference(*images).getbbox() is not None


@pytest.mark.parametrize(("paper", "width"), [(Paper.A4, 595), (Paper.LETTER, 612)])
def test_a_long_excerpt_is_pages_of_paper_in_pdf(paper, width):
    data = place(score(*[note("C5") * 4] * 150, note() * 4), [at(151)], COLLECTION).data
    made = preview(data, bars="1-151", paged=True)
    pages = PdfReader(io.BytesIO(preview_bytes(made, PreviewFormat.PDF, paper))).pages
    assert len(pages) > 1
    assert round(float(pages[0].mediabox.width)) == width
    text = "\n".join(page.extract_text() for page in pages)
    assert "Bars 1 to 151" in text
    assert "M1 heron: Alto Saxophone, bar 151, beat 1" in " ".join(text.split())


def test_the_web_page_holds_everything(around):
    page = preview_bytes(around, PreviewFormat.HTML).decode()
    assert re.findall(r'(?:src|href)="(?!data:|#)', page) == []
    assert page.count("<img ") == sum(len(s.pages) for b in around.bars for s in b.stages)


def test_what_people_wrote_is_harmless_in_svg_and_html():
    name = "A & B <script>alert(1)</script>"
    head = "<work><work-title>A &amp; B &lt;script&gt;alert(1)&lt;/script&gt;</work-title></work>"
    data = place(score(note() * 4, header=head), [at(1)], COLLECTION).data
    made = preview(data)
    assert made.title == name
    assert "<script>" not in preview_bytes(made, PreviewFormat.HTML).decode()
    titles = etree.fromstring(preview_picture(made).svg.encode()).findall(f"{SVG}text")
    assert titles[0].text == name


def test_a_score_without_sonorities_is_refused():
    with pytest.raises(RequestError, match="holds no sonorities of ours"):
        preview(RESTS)


def test_parts_without_a_sonority_are_refused_unless_bars_are_named():
    with pytest.raises(RequestError, match="no sonority stands in P5") as caught:
        preview(PLACED, parts=["P5"])
    assert "Tenor Saxophone" in caught.value.hint

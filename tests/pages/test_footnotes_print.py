"""Footnotes for print: PDF, SVG and HTML hold every footnote, in order, as text."""

import io
import re
from dataclasses import replace
from pathlib import Path

import pytest
from lxml import etree, html
from PIL import Image
from pypdf import PdfReader

from long_scores import long_score
from reedchord.drawing.paper import Paper
from reedchord.drawing.picture_files import PictureFormat, picture_bytes
from reedchord.errors import RequestError
from reedchord.pages.footnote_files import (
    FootnoteFormat,
    FootnoteOptions,
    footnote_file,
    footnote_format,
)
from reedchord.pages.footnotes import footnotes_of
from reedchord.pages.footnotes_html import as_html
from reedchord.pages.footnotes_pdf import as_pdf
from reedchord.pages.footnotes_svg import as_svg
from reedchord.pitch_names import PitchNames
from reedchord.placement.place import place
from reedchord.reader import Reader, told_to
from samples import BITTERN, COLLECTION, RESTS, at, sonority

SVG = "{http://www.w3.org/2000/svg}"
# ISO 216 says 210 by 297 mm; Letter is 8.5 by 11 inches; a point is 1/72 inch.
POINTS = {Paper.A4: (595.3, 841.9), Paper.LETTER: (612, 792)}


@pytest.fixture(scope="module")
def sixty():
    with told_to(Reader(pitch_names=PitchNames.GERMAN)):
        return footnotes_of(long_score(60))


@pytest.fixture(scope="module")
def sixty_on_a4(sixty):
    return as_pdf(sixty).pdf


def squeezed(text):
    """Return a text without spaces and line breaks, which readers of PDF put where they like."""
    return "".join(text.split())


def assert_in_order(notes, text):
    """Every label, fingering, tone and remark stands in the text, footnote after footnote."""
    place, text = 0, squeezed(text)
    for note in notes:
        tones = [tone.written for tone in note.tones] + [tone.concert for tone in note.tones]
        place = text.index(note.label, place)
        for words in (note.title, note.fingering):
            place = text.index(squeezed(words), place)
        for words in tones:
            assert squeezed(words) in text[place:]
        for heading, words in note.remarks:
            place = text.index(squeezed(heading + words), place)


@pytest.mark.parametrize("paper", Paper)
def test_text_extracted_from_the_pdf_holds_every_footnote_in_order(sixty, paper):
    """Read by pypdf."""
    made = as_pdf(sixty, paper)
    assert made.not_shown == ""
    pages = PdfReader(io.BytesIO(made.pdf)).pages
    assert len(pages) > 10
    texts = [page.extract_text() for page in pages]
    assert_in_order(sixty, "".join(texts))
    for page, text in zip(pages, texts, strict=True):
        size = float(page.mediabox.width), float(page.mediabox.height)
        assert size == pytest.approx(POINTS[paper], abs=0.5)
        assert squeezed("LabelFingeringSonority") in squeezed(text)
    assert "Do not bite" in texts[-1]
    assert squeezed("H is B natural") in squeezed(texts[0])


def test_no_entry_of_the_pdf_is_torn_unless_it_is_long(sixty, sixty_on_a4):
    texts = [squeezed(page.extract_text()) for page in PdfReader(io.BytesIO(sixty_on_a4)).pages]
    for note in [*sixty][1:]:
        begins, ends = squeezed(note.title), squeezed("Places" + dict(note.remarks)["Places"])
        assert any(begins in text and ends in text for text in texts), note.label


def pdf(notes):
    return as_pdf(notes).pdf


def test_a_sonority_in_hundreds_of_places_goes_on_over_the_page():
    notes = footnotes_of(long_score(1))
    (note,) = notes
    crowded = replace(note, places="; ".join([note.places] * 200))
    notes = type(notes)(notes.score_title, notes.pitch_names, (crowded,))
    pages = PdfReader(io.BytesIO(pdf(notes))).pages
    assert len(pages) > 2
    text = squeezed("".join(page.extract_text() for page in pages))
    # A heading and a foot stand between the halves of a place that is torn.
    text = re.sub(r"(Fingeringfootnotes:LowWater&Reeds\d/\d)?LabelFingeringSonority", "", text)
    assert text.count("bar1,beat3") == text.count("bar1,beat1") == 200


def test_the_pdf_has_title_and_language_and_tags(sixty_on_a4):
    reader = PdfReader(io.BytesIO(sixty_on_a4))
    assert reader.metadata.title == "Fingering footnotes: Low Water & Reeds"
    assert reader.trailer["/Root"]["/Lang"] == "en"
    assert reader.trailer["/Root"]["/MarkInfo"]["/Marked"]


def test_the_same_score_gives_the_same_bytes():
    notes = footnotes_of(long_score(3))
    assert pdf(notes) == pdf(notes)
    assert as_svg(notes) == as_svg(notes)


def test_characters_that_no_font_has_are_told_and_the_rest_is_printed():
    odd = sonority("odd", "E4", fingering="left 1").model_copy(update={"name": "Reed \U00012000"})
    collection = type(COLLECTION)({"odd": odd}, {}, "odd")
    notes = footnotes_of(place(RESTS, [at(1, 1, "odd")], collection).data)
    file = footnote_file(notes, FootnoteFormat.PDF)
    assert "\U00012000" in file.remarks[0]
    assert "left hand 1" in PdfReader(io.BytesIO(file.data)).pages[0].extract_text().replace(
        "\u00a0", " "
    )


@pytest.mark.parametrize("width_mm", [170, 120, 95])
def test_the_svg_block_holds_every_footnote_within_its_width(sixty, width_mm):
    block = as_svg(sixty, width_mm)
    root = etree.fromstring(block.svg.encode("utf-8"))
    assert root.get("width") == f"{width_mm}mm"
    texts = ["".join(text.itertext()) for text in root.iterfind(f"{SVG}text")]
    joined = squeezed("".join(texts))
    place = 0
    for note in sixty:
        for words in (note.label, note.title, note.fingering, note.sonority.source.brief()):
            place = joined.index(squeezed(words), place)
    keys = [node.get("data-key") for node in root.iter(f"{SVG}g") if node.get("class")]
    assert len(keys) > 7 * len(sixty)


@pytest.mark.parametrize("width_mm", [170, 95])
def test_a_renderer_draws_the_block_inside_its_frame(width_mm):
    """Drawn by typst's own SVG reader; the right and lower edge stay white."""
    block = as_svg(footnotes_of(long_score(4)), width_mm)
    size = {"width_mm": block.width_mm, "height_mm": block.height_mm}
    png = picture_bytes(block.svg, PictureFormat.PNG, dots_per_inch=100, **size)
    picture = Image.open(io.BytesIO(png)).convert("L")
    dark = picture.point(lambda light: 255 * (light < 128)).getbbox()
    assert dark[0] < 10
    assert dark[1] < 10
    assert picture.width * 0.5 < dark[2] < picture.width - 1
    assert picture.height * 0.9 < dark[3] < picture.height


def test_a_block_too_narrow_for_its_diagrams_is_refused_with_what_it_needs(sixty):
    with pytest.raises(RequestError) as narrow:
        as_svg(sixty, 60)
    needed = int("".join(filter(str.isdigit, narrow.value.hint)))
    assert as_svg(sixty, needed).width_mm == needed
    with pytest.raises(RequestError):
        as_svg(sixty, needed - 2)


def test_a_block_higher_than_a_page_is_told(sixty):
    assert "mm high" in footnote_file(sixty, FootnoteFormat.SVG).remarks[-1]
    (remark,) = footnote_file(footnotes_of(long_score(3)), FootnoteFormat.SVG).remarks
    assert "Do not bite" in remark


def test_long_addresses_break_inside_the_column():
    """Letters that left the page would be missing from what a printer sees: the right margin."""
    address = "https://library.example/" + "reeds-at-low-water/" * 8
    entry = BITTERN.source.entry.model_copy(update={"note": address})
    far = sonority("far", "E4", source={"id": "reedbed", "entry": entry})
    collection = type(COLLECTION)({"far": far}, {}, "far")
    notes = footnotes_of(place(RESTS, [at(1, 1, "far")], collection).data)
    (page,) = PdfReader(io.BytesIO(pdf(notes))).pages
    assert address in squeezed(page.extract_text())
    ends = []
    page.extract_text(visitor_text=lambda *found: ends.append(found[2][4]))
    assert max(ends) < POINTS[Paper.A4][0]


def test_the_html_page_holds_every_footnote_and_asks_for_nothing(sixty):
    page = as_html(sixty)
    root = html.document_fromstring(page)
    assert root.get("lang") == "en"
    assert root.xpath("//h1/text()") == ["Low Water & Reeds"]
    rows = root.xpath("//table[@class='footnotes']/tbody/tr")
    assert [row.xpath("./th")[0].text for row in rows] == [note.label for note in sixty]
    for row, note in zip(rows, sixty, strict=True):
        text = squeezed(row.text_content())
        for words in (note.title, note.fingering, *(h + w for h, w in note.remarks)):
            assert squeezed(words) in text
        assert len(row.xpath(".//*[local-name()='svg'][@role='img']")) == 1
    assert not root.xpath("//@src | //@href | //script | //link | //*[@onclick]")
    assert "url(" not in page
    assert "@import" not in page


def test_names_with_signs_of_html_stay_text():
    odd = sonority("odd", "E4", fingering="left 1").model_copy(
        update={"name": '<b>Reed</b> & "bed" #strong[x]'}
    )
    collection = type(COLLECTION)({"odd": odd}, {}, "odd")
    notes = footnotes_of(place(RESTS, [at(1, 1, "odd")], collection).data)
    assert html.document_fromstring(as_html(notes)).xpath("//td/p/strong/text()") == [odd.name]
    assert odd.name in PdfReader(io.BytesIO(pdf(notes))).pages[0].extract_text()
    assert etree.fromstring(as_svg(notes).svg.encode()).xpath(
        "//*[local-name()='text'][@font-weight]/text()"
    ) == ["M1", f"{odd.name}, alto saxophone"]


@pytest.mark.parametrize(
    ("name", "out", "form"),
    [
        (None, None, "text"),
        (None, "-", "text"),
        ("pdf", "-", "pdf"),
        (None, "a.PDF", "pdf"),
        (None, "a.htm", "html"),
        (None, "a.md", "markdown"),
        ("block", "a.txt", "block"),
        ("svg", "a.svg", "svg"),
        ("text", "notes", "text"),
    ],
)
def test_the_format_is_named_or_told_by_the_ending(name, out, form):
    assert footnote_format(name, Path(out) if out else None) == form


@pytest.mark.parametrize(
    ("form", "options"),
    [
        (FootnoteFormat.SVG, FootnoteOptions(width_characters=60)),
        (FootnoteFormat.TEXT, FootnoteOptions(width_mm=60)),
    ],
)
def test_options_of_other_formats_are_refused(form, options):
    notes = footnotes_of(long_score(1))
    with pytest.raises(RequestError, match="is for the format"):
        footnote_file(notes, form, options)

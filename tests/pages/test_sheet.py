"""The sheet for composer and player: one content, on a web page and on paper."""

import io
import re

import pytest
from lxml import html
from pypdf import PdfReader

from reedchord import read_collection
from reedchord.demo import demo_files
from reedchord.demo_paths import COLLECTION as DEMO_COLLECTION
from reedchord.demo_paths import shipped_path
from reedchord.drawing.paper import Paper
from reedchord.errors import RequestError
from reedchord.pages.sheet import meeting_sheet
from reedchord.pages.sheet_excerpts import MOST_EXCERPTS
from reedchord.pages.sheet_options import NO_COLLECTION
from reedchord.pages.sheet_page import sheet_page
from reedchord.pages.sheet_print import sheet_pdf
from reedchord.placement.place import place
from reedchord.reader import Reader, told_to
from reedchord.trials.set_ups import SET_UP_FIELDS
from reedchord.trials.trial_fields import OUTCOMES
from reedchord.wording import CAUTIONS
from samples import COLLECTION, RESTS, at, note, score

PLACED = demo_files()[0].data
BAND = read_collection(shipped_path(DEMO_COLLECTION))


@pytest.fixture(scope="module")
def sheet():
    return meeting_sheet(PLACED, BAND)


@pytest.fixture(scope="module")
def page(sheet):
    return sheet_page(sheet)


def squeezed(text):
    return "".join(text.split())


@pytest.fixture(scope="module", params=list(Paper))
def print_text(sheet, request):
    made = sheet_pdf(sheet, request.param)
    assert made.not_shown == ""
    pages = PdfReader(io.BytesIO(made.pdf)).pages
    return squeezed(" ".join(page.extract_text() for page in pages))


def page_text(page):
    tree = html.fromstring(page)
    for unseen in tree.xpath("//style|//svg"):
        unseen.drop_tree()
    return squeezed(tree.text_content())


def test_sonorities_stand_in_the_order_of_their_labels(sheet):
    assert [entry.label for entry in sheet.sonorities] == ["M1", "M2", "M3", "M4", "M5", "M6"]
    assert sheet.title == "Harbour Lights"


def test_an_entry_tells_where_it_stands_and_what_comes_out(sheet):
    slack = sheet.sonorities[1]
    assert [excerpt.heading for excerpt in slack.excerpts] == [
        "Alto Saxophone, bars 4 to 6",
        "Alto Saxophone, bars 8 to 10",
    ]
    assert slack.emphasis == (
        "The score brings out tone 2, written D5 −18¢; elsewhere tone 3, written A5 +24¢."
    )
    assert [tone.written for tone in slack.tones] == ["A5 +24¢", "D5 −18¢", "F4 +50¢"]
    assert [tone.concert for tone in slack.tones] == ["C5 +24¢", "F4 −18¢", "A3 −50¢"]


def test_tones_that_the_score_leaves_out_are_told(sheet):
    bell = sheet.sonorities[0]
    assert [tone.is_wanted for tone in bell.tones] == [False, True, True, True]
    assert bell.emphasis.endswith("it does not ask for tone 4.")


def test_limits_are_in_plain_words_american_or_british(sheet):
    with told_to(Reader(british=True)):
        british = meeting_sheet(PLACED, BAND)
    limits = [
        dict(made.sonorities[1].facts)["Limits"][0].replace("\N{NO-BREAK SPACE}", " ")
        for made in (sheet, british)
    ]
    assert limits == [
        "single tongue: up to 16ths at quarter = 72, mp-f (4.8 attacks a second)",
        "single tongue: up to semiquavers at crotchet = 72, mp-f (4.8 attacks a second)",
    ]


def test_alternatives_sound_alike_or_are_near_for_the_fingers(sheet):
    bell, slack, engine = (sheet.sonorities[index].options for index in (0, 1, 2))
    assert [option.name for option in bell.alike] == ["Slipway (tenor-slipway)"]
    assert bell.alike[0].reasons[0].startswith("2 of 3 tones alike: concert E♭3 −40¢ by −45¢")
    assert [option.name for option in slack.easy] == ["Tide mill (alto-tide-mill)"]
    assert "nothing that sounds alike" in engine.remark


def test_no_alternative_is_the_sonority_itself_or_for_another_saxophone(sheet):
    for entry in sheet.sonorities:
        for option in (*entry.options.alike, *entry.options.easy):
            other = BAND[re.search(r"\((.*)\)", option.name)[1]]
            assert other.id != entry.id
            assert str(other.saxophone) == entry.saxophone


def test_without_a_collection_it_says_so():
    entry = meeting_sheet(PLACED).sonorities[1]
    assert entry.options.remark == NO_COLLECTION
    assert [near.name for near in entry.neighbours] == ["alto-tide-mill", "alto-lantern"]


def test_many_places_are_drawn_up_to_a_number_and_told_beyond_it():
    data = place(score(*[note() * 4] * 40), [at(bar) for bar in range(2, 40, 5)], COLLECTION).data
    (entry,) = meeting_sheet(data).sonorities
    assert len(entry.excerpts) == MOST_EXCERPTS
    assert entry.not_drawn.startswith("It also stands in Alto Saxophone, bars 21 to 23; ")


def test_the_page_asks_for_nothing_and_has_no_script(page):
    tree = html.fromstring(page)
    named = tree.xpath("//@src|//@href|//@data|//@action")
    assert [name for name in named if not name.startswith(("data:", "#"))] == []
    assert tree.xpath("//script|//link|//iframe|//object") == []
    assert "url(" not in page
    assert "@import" not in page


def test_page_and_print_hold_the_same(sheet, page, print_text):
    shown = page_text(page)
    for entry in sheet.sonorities:
        facts = dict(entry.facts)
        for words in (
            entry.id,
            entry.name,
            entry.fingering,
            entry.emphasis,
            *facts["Source"],
            *facts["Evidence"],
            *facts.get("Limits", ()),
            *(tone.written for tone in entry.tones),
            *(tone.concert for tone in entry.tones),
            *(near.name for near in entry.neighbours),
            *(option.name for option in (*entry.options.alike, *entry.options.easy)),
            entry.options.remark,
            f"{entry.label}: what happened",
        ):
            assert squeezed(words) in shown, words
            assert squeezed(words) in print_text, words
    for words in (*SET_UP_FIELDS, *OUTCOMES, *CAUTIONS, "What was agreed"):
        assert squeezed(words) in shown
        assert squeezed(words) in print_text


def test_headings_come_in_the_same_order_on_page_and_paper(page, print_text):
    headings = [
        squeezed(heading.text_content())
        for heading in html.fromstring(page).xpath("//section[@id='M2']//*[self::h3|self::legend]")
    ]
    assert len(headings) == 8
    part = print_text[print_text.index("recordalto-slack-water") :]
    places = [part.index(heading) for heading in headings]
    assert places == sorted(places)


def test_there_is_a_box_to_tick_for_every_tone_at_every_dynamic(sheet, page):
    boxes = html.fromstring(page).xpath("//section[@id='M2']//input[@type='checkbox']")
    slack = sheet.sonorities[1]
    assert len(boxes) == len(OUTCOMES) + len(slack.tones) * len(slack.dynamics)


def test_each_sonority_begins_a_page_of_the_print(sheet):
    pages = PdfReader(io.BytesIO(sheet_pdf(sheet).pdf)).pages
    starts = [page.extract_text() for page in pages]
    for entry in sheet.sonorities:
        assert any(f"record {entry.id}" in " ".join(text.split())[:120] for text in starts)


def test_the_same_score_gives_the_same_bytes(sheet, page):
    again = meeting_sheet(PLACED, BAND)
    assert sheet_page(again) == page
    assert sheet_pdf(again) == sheet_pdf(sheet)


def test_a_score_without_sonorities_is_refused():
    with pytest.raises(RequestError, match="holds no sonorities of ours"):
        meeting_sheet(RESTS)

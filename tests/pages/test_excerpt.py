"""Excerpts as engraved: the right bars, the right notes, marks that touch nothing."""

import re

import pytest
from lxml import etree

from reedchord.demo import demo_files
from reedchord.drawing.engraving import MusicPaper
from reedchord.errors import RequestError
from reedchord.musicxml.document import read_score
from reedchord.musicxml.engravable import engravable
from reedchord.pages.excerpt import BarRange, Excerpts, bar_ranges, parts_named, ranges_around
from reedchord.placement.place import place
from reedchord.placement.standing import standing_placements
from samples import COLLECTION, RESTS, at, note, score
from truth.engraving import engraved

PLACED = read_score(demo_files()[0].data)
STANDING = standing_placements(PLACED)
PAPER = MusicPaper(width_mm=180, staff_mm=6)
SVG = "{http://www.w3.org/2000/svg}"


def drawn(read, first, last, parts=(), placements=()):
    chosen = parts_named(read, parts)
    excerpts = Excerpts(read, chosen, placements)
    return excerpts.draw(BarRange(first, last), PAPER, title="Some bars", key="e")


def of_class(picture, name):
    root = etree.fromstring(picture.svg.encode())
    return [g for g in root.iter(f"{SVG}g") if name in g.get("class", "").split()]


def noteheads(picture):
    return sum(1 for head in of_class(picture, "notehead") if len(head))


def test_the_engraver_has_nothing_to_complain_about():
    assert engraved(engravable(PLACED, PLACED.parts, {}).encode()).warnings == ()


@pytest.mark.parametrize("part", ["P1", "P2", "P3", "P4", "P5"])
def test_an_excerpt_has_the_noteheads_of_its_bars(part):
    found = drawn(PLACED, 2, 8, [part], STANDING)
    pitches = sum(len(bar.element.findall("note/pitch")) for bar in PLACED.part(part).bars[2:9])
    assert sum(map(noteheads, found.pages)) == pitches


def test_marks_stand_around_the_placements_of_these_bars_alone():
    found = drawn(PLACED, 10, 10, (), STANDING)
    assert [one.row.label for one in found.placements] == ["M4", "M5", "M6"]
    (page,) = found.pages
    marks = of_class(page, "placement-mark")
    assert sorted(mark.findtext(f"{SVG}title") for mark in marks) == ["M4", "M5", "M6"]
    words = etree.fromstring(page.svg.encode()).iter(f"{SVG}text")
    labels = [word.text for word in words if word.get("class") == "placement-label"]
    assert sorted(labels) == ["M4", "M5", "M6"]
    assert page.words == "Some bars; marked: M4, M5, M6"


def test_corners_lie_around_all_heads_of_the_chord():
    """The heads' places are verovio's; M2 stands alone in its bar."""
    (page,) = drawn(PLACED, 4, 4, ["P2"], STANDING).pages
    uses = [use for head in of_class(page, "notehead") for use in head.iter(f"{SVG}use")]
    places = [re.findall(r"-?[\d.]+", use.get("transform"))[:2] for use in uses]
    (mark,) = of_class(page, "placement-mark")
    path = mark.find(f"{SVG}path").get("d")
    corners = [tuple(map(float, c)) for c in re.findall(r"V(-?[\d.]+)H(-?[\d.]+)", path)]
    starts = [tuple(map(float, c)) for c in re.findall(r"M(-?[\d.]+) (-?[\d.]+)", path)]
    left, right = min(x for x, _ in starts), max(x for x, _ in starts)
    top, bottom = min(y for y, _ in corners), max(y for y, _ in corners)
    assert len(places) >= 3
    for x, y in places:
        assert left < float(x) < right
        assert top < float(y) < bottom


def test_marks_alter_no_note():
    def music(placements):
        (page,) = drawn(PLACED, 4, 4, ["P2"], placements).pages
        layers = of_class(page, "layer")
        uses = [use for layer in layers for use in layer.iter(f"{SVG}use")]
        return [(use.getparent().get("class"), use.get("transform")[:9]) for use in uses]

    assert len(music(STANDING)) == len(music(())) > 0
    assert [kind for kind, _ in music(STANDING)] == [kind for kind, _ in music(())]


def test_the_same_excerpt_gives_the_same_bytes():
    first, second = (drawn(PLACED, 2, 11, (), STANDING) for _ in range(2))
    assert first == second


def test_clef_key_and_time_at_the_start_are_those_that_hold_there():
    change = (
        "<attributes><key><fifths>3</fifths></key><time><beats>3</beats><beat-type>4</beat-type>"
        "</time><clef><sign>F</sign><line>4</line></clef></attributes>"
    )
    read = read_score(score(note("C5") * 4, change + note("C4") * 3, note("D4") * 3))
    (page,) = drawn(read, 2, 2).pages
    names = {use.get("{http://www.w3.org/1999/xlink}href")[1:5] for use in uses_of(page, "clef")}
    assert names == {"E062"}  # SMuFL: F clef
    assert len(uses_of(page, "keySig")) == 3
    figures = [
        use.get("{http://www.w3.org/1999/xlink}href")[1:5] for use in uses_of(page, "meterSig")
    ]
    assert figures == ["E083", "E084"]  # SMuFL: time signature 3 and 4


def uses_of(page, name):
    return [use for group in of_class(page, name) for use in group.iter(f"{SVG}use")]


def test_many_bars_make_several_systems_on_one_tall_page():
    read = read_score(score(*[note("C5") * 4] * 60))
    (page,) = drawn(read, 0, 59).pages
    assert len(of_class(page, "system")) > 3
    assert len(of_class(page, "measure")) == 60
    assert page.height_mm > 60


def test_paper_of_a_height_divides_an_excerpt_into_pages():
    read = read_score(score(*[note("C5") * 4] * 60))
    paper = MusicPaper(width_mm=120, staff_mm=6, height_mm=60)
    found = Excerpts(read, read.parts).draw(BarRange(0, 59), paper, title="All", key="e")
    assert len(found.pages) > 2
    assert sum(map(noteheads, found.pages)) == 240
    assert all(page.height_mm <= 60 for page in found.pages)


def test_placements_in_a_score_without_ids_are_marked_too():
    old = place(score(note() * 4, note() * 4, version="2.0"), [at(1), at(2, 3)], COLLECTION).data
    assert b'id="rc-' not in old
    read = read_score(old)
    (page,) = drawn(read, 0, 1, (), standing_placements(read)).pages
    assert len(of_class(page, "placement-mark")) == 2


def test_no_id_of_the_page_can_meet_one_of_another_page():
    one, other = (
        set(re.findall(r' id="([^"]+)"', picture.svg))
        for key in ("a", "b")
        for picture in Excerpts(PLACED, PLACED.parts)
        .draw(BarRange(0, 1), PAPER, title="x", key=key)
        .pages
    )
    assert one
    assert not one & other


@pytest.mark.parametrize(
    ("text", "ranges"),
    [
        ("3", [(2, 2)]),
        ("3-5", [(2, 4)]),
        (" 3 - 5 ", [(2, 4)]),
        ("@3-@5", [(2, 4)]),
        ("1,7-@8", [(0, 0), (6, 7)]),
    ],
)
def test_bars_are_read_by_label_and_by_count(text, ranges):
    found = bar_ranges(text, PLACED.parts[0])
    assert [(bars.first, bars.last) for bars in found] == ranges


def test_a_label_may_hold_a_hyphen():
    labelled = score(note("C5") * 4, note("C5") * 4, note("C5") * 4)
    for number, label in ((1, "A-1"), (2, "A-2"), (3, "B")):
        labelled = labelled.replace(f'number="{number}"'.encode(), f'number="{label}"'.encode())
    part = read_score(labelled).parts[0]
    assert bar_ranges("A-1", part) == (BarRange(0, 0),)
    assert bar_ranges("A-1-B", part) == (BarRange(0, 2),)
    assert bar_ranges("A-1-A-2", part) == (BarRange(0, 1),)


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("13", "has no bar 13"),
        ("3-99", "has no bar 99"),
        ("x-3", "has no bar x"),
        ("", "names no bars"),
        ("5-3", "bar 5 comes after bar 3"),
    ],
)
def test_bars_that_are_not_there_are_told_with_those_that_are(text, sentence):
    with pytest.raises(RequestError, match=sentence) as caught:
        bar_ranges(text, PLACED.parts[0])
    assert "1 to 12" in caught.value.hint or "3-5" in caught.value.hint


def test_the_bars_around_placements_touch_the_ends_of_the_score_and_each_other():
    read = read_score(place(RESTS, [at(1)], COLLECTION).data)
    assert ranges_around(standing_placements(read)) == (BarRange(0, 1),)
    many = read_score(place(score(*[note() * 4] * 12), [at(2), at(5), at(10)], COLLECTION).data)
    assert ranges_around(standing_placements(many)) == (BarRange(0, 5), BarRange(8, 10))


def test_a_chord_that_was_edited_since_says_so():
    data = place(RESTS, [at(1)], COLLECTION).data.replace(
        b"<octave>5</octave>", b"<octave>6</octave>"
    )
    (one,) = standing_placements(read_score(data))
    assert "edited since it was placed" in one.words


def test_the_engraver_talks_to_nobody(capfd):
    """A slur without an end is worth a warning to verovio."""
    slur = '<notations><slur type="start" number="1"/></notations></note>'
    read = read_score(score(note("C5").replace("</note>", slur) + note("C5") * 3))
    assert engraved(engravable(read, read.parts, {}).encode()).warnings != ()
    capfd.readouterr()
    drawn(read, 0, 0)
    assert capfd.readouterr() == ("", "")


def test_bars_long_before_an_excerpt_leave_their_clef_and_key_alone():
    """What the engraver is given for a few bars draws as it does within the whole score."""
    change = (
        "<attributes><key><fifths>-2</fifths></key>"
        "<clef><sign>F</sign><line>4</line></clef></attributes>"
    )
    read = read_score(score(note("C5") * 4, change + note("C3") * 4, *[note("D3") * 4] * 40))
    (page,) = drawn(read, 38, 39).pages
    assert [
        use.get("{http://www.w3.org/1999/xlink}href")[1:5] for use in uses_of(page, "clef")
    ] == ["E062"]
    assert len(uses_of(page, "keySig")) == 2
    assert noteheads(page) == 8
    short = engravable(read, read.parts, {}, bars=range(38, 40))
    assert short.count("<pitch>") == 4 * 13  # two with attributes, eight before, these and the next

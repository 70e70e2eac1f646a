"""The copy of a score that goes to the engraver."""

from lxml import etree

from reedchord.demo_paths import SCORE, shipped_path
from reedchord.musicxml.document import read_score
from reedchord.musicxml.engravable import NotePlace, engravable
from samples import BAR_REST, note, score

HARBOUR = read_score(shipped_path(SCORE).read_bytes())


def copy_of(read, parts=None, names=None, **options):
    chosen = read.parts if parts is None else parts
    return etree.fromstring(engravable(read, chosen, names or {}, **options))


def test_every_part_and_bar_is_there_and_bars_of_the_first_part_have_known_ids():
    copy = copy_of(HARBOUR)
    assert [part.get("id") for part in copy.iterfind("part")] == [p.id for p in HARBOUR.parts]
    assert [len(part) for part in copy.iterfind("part")] == [12] * 5
    assert [bar.get("id") for bar in copy.iterfind("part[1]/measure")] == [
        f"reedchord-bar-{index}" for index in range(12)
    ]


def test_one_part_comes_without_the_others_and_without_their_bracket():
    alto = HARBOUR.part("Alto Saxophone")
    copy = copy_of(HARBOUR, [alto])
    assert [entry.get("id") for entry in copy.iterfind("part-list/*")] == [alto.id]
    assert copy.findtext("part-list/score-part/part-name") == "Alto Saxophone"
    nameless = copy_of(HARBOUR, [alto], part_names=False)
    assert nameless.findtext("part-list/score-part/part-name") == ""


def test_a_note_is_named_by_its_place_and_the_original_stays():
    read = read_score(score(note("C5") + note("D5") + note() * 2))
    children = [child.tag for child in read.parts[0].bars[0].element.iterchildren("*")]
    place = NotePlace("P1", 0, children.index("note") + 1)
    named = copy_of(read, names={place: "mine"}).find(".//note[@id='mine']")
    assert named.findtext("pitch/step") == "D"
    assert read.root.find(".//note[@id]") is None


def test_a_multi_bar_rest_becomes_single_bars():
    style = (
        "<attributes><measure-style><multiple-rest>2</multiple-rest></measure-style></attributes>"
    )
    read = read_score(score(note("C5") * 4, style + BAR_REST.format(4), BAR_REST.format(4)))
    assert read.root.find(".//multiple-rest") is not None
    assert copy_of(read).find(".//multiple-rest") is None


def test_a_timewise_score_becomes_partwise():
    partwise = read_score(score(note("C5") * 4, note("D5") * 4))
    bars = partwise.parts[0].bars
    measures = "".join(
        f'<measure number="{bar.label}"><part id="P1">'
        + "".join(etree.tostring(child, encoding="unicode") for child in bar.element)
        + "</part></measure>"
        for bar in bars
    )
    head = '<part-list><score-part id="P1"><part-name>A</part-name></score-part></part-list>'
    text = f'<score-timewise version="4.0">{head}{measures}</score-timewise>'
    copy = copy_of(read_score(text.encode()))
    assert copy.tag == "score-partwise"
    assert [bar.get("number") for bar in copy.iterfind("part/measure")] == ["1", "2"]
    assert [step.text for step in copy.iterfind("part/measure/note/pitch/step")] == [*"CCCCDDDD"]

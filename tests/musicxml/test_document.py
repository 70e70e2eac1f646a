"""Parts and bars of a score, and where they stand in its text."""

import pytest

from reedchord.errors import InputError, RequestError
from reedchord.musicxml.document import read_score
from samples import RESTS, note, score

TWO_PARTS = b"""<?xml version="1.0"?>
<!-- <measure number="0"> is no bar -->
<score-partwise version="3.1"><part-list>
<score-part id="P1"><part-name>
  Alto   Saxophone</part-name><part-abbreviation>A. Sax.</part-abbreviation>
<score-instrument id="I1"><instrument-name>Alto</instrument-name>
<instrument-sound>wind.reed.saxophone.alto</instrument-sound></score-instrument></score-part>
<score-part id="P2"><part-name>Piano</part-name></score-part></part-list>
<part id="P1"><measure number="0" implicit="yes"/><measure number="1"><note/></measure>
<measure number='X1' text="a > b"><note id="n1"/><!-- </measure> --></measure></part>
<part id="P2"><measure number="0"/><measure number="1"/><measure number="1"/></part>
<part id="P3"/>
</score-partwise>"""


@pytest.fixture(scope="module")
def read():
    return read_score(TWO_PARTS)


def test_parts_are_described_by_the_part_list(read):
    first, second, undescribed = read.parts
    assert (first.id, first.name, first.abbreviation) == ("P1", "Alto Saxophone", "A. Sax.")
    (instrument,) = first.instruments
    assert (instrument.name, instrument.sound) == ("Alto", "wind.reed.saxophone.alto")
    assert second.instruments == ()
    assert (undescribed.id, undescribed.name, undescribed.bars) == ("P3", "", ())
    assert [str(part) for part in read.parts] == ["P1 (Alto Saxophone)", "P2 (Piano)", "P3"]


def test_a_bar_is_called_by_its_label_and_counted_where_that_differs(read):
    assert [str(bar) for bar in read.parts[0].bars] == ["0 (@1)", "1 (@2)", "X1 (@3)"]
    assert read.parts[0].bar("X1").index == 2
    assert read.parts[0].bar("@3").label == "X1"


@pytest.mark.parametrize("address", ["2", "@0", "@4", "@x", "x1", ""])
def test_a_bar_that_does_not_exist(read, address):
    with pytest.raises(RequestError) as caught:
        read.parts[0].bar(address)
    assert caught.value.code == "score.no-such-bar"
    assert "labelled 0 to X1" in str(caught.value)


def test_a_label_that_two_bars_share(read):
    with pytest.raises(RequestError) as caught:
        read.parts[1].bar("1")
    assert caught.value.code == "score.bar-not-unique"
    assert "@2, @3" in str(caught.value)


def test_a_part_without_bars_says_so(read):
    with pytest.raises(RequestError, match="no bar 1") as caught:
        read.parts[2].bar("1")
    assert "has no bars" in str(caught.value)


def test_a_bar_s_span_is_its_element_in_the_text(read):
    texts = [read.text[slice(*read.bar_span(bar))] for part in read.parts for bar in part.bars]
    assert texts == [
        '<measure number="0" implicit="yes"/>',
        '<measure number="1"><note/></measure>',
        '<measure number=\'X1\' text="a > b"><note id="n1"/><!-- </measure> --></measure>',
        '<measure number="0"/>',
        '<measure number="1"/>',
        '<measure number="1"/>',
    ]


def test_a_bar_that_lies_in_no_part_is_told():
    data = TWO_PARTS.replace(b"</score-partwise>", b"<measure/></score-partwise>")
    stray = read_score(data)
    with pytest.raises(InputError) as caught:
        stray.bar_span(stray.parts[0].bars[0])
    assert caught.value.code == "score.structure"


@pytest.mark.parametrize("wanted", ["P1", "Alto Saxophone", "ALTO SAXOPHONE", "a. sax."])
def test_a_part_by_id_name_or_abbreviation(read, wanted):
    assert read.part(wanted).id == "P1"


def test_an_id_goes_before_another_part_s_name():
    data = TWO_PARTS.replace(b">Piano<", b">P1<")
    assert read_score(data).part("P1").name == "Alto Saxophone"


@pytest.mark.parametrize("wanted", ["Tuba", ""])
def test_a_part_that_does_not_exist(read, wanted):
    with pytest.raises(RequestError) as caught:
        read.part(wanted)
    assert caught.value.code == "score.no-such-part"
    assert "P1 (Alto Saxophone), P2 (Piano), P3" in str(caught.value)
    assert str(caught.value).count("Piano") == 1  # the parts are told once


@pytest.mark.parametrize(
    ("declared", "version", "has_ids"),
    [
        ('version="4.0"', (4, 0), True),
        ('version="3.1"', (3, 1), True),
        ('version="3.0"', (3, 0), False),
        ('version="2.0"', (2, 0), False),
        ("", (1, 0), False),  # MusicXML 4.0 XSD: the attribute's default is 1.0
        ('version=""', (), False),
    ],
)
def test_versions(declared, version, has_ids):
    data = RESTS.replace(b'version="4.0"', declared.encode()).replace(b"<?xml <score", b"<score")
    read = read_score(data)
    assert read.version == version
    assert read.can_have_ids is has_ids


def test_ids_are_those_of_every_element(read):
    assert read.ids == {"P1", "P2", "P3", "I1", "n1"}


def test_a_concert_score_says_so():
    assert not read_score(RESTS).is_marked_concert
    marked = score(note(), header="<defaults><concert-score/></defaults>")
    assert read_score(marked).is_marked_concert


TIMEWISE = b"""<score-timewise><part-list><score-part id="A"><part-name/></score-part>
</part-list><measure number="1"><part id="A"/><part id="B"><note/></part></measure>
<measure number="2"><part id="B"/></measure></score-timewise>"""


def test_a_timewise_score_has_the_same_parts_and_bars():
    read = read_score(TIMEWISE)
    assert read.is_timewise
    assert [(part.id, [bar.label for bar in part.bars]) for part in read.parts] == [
        ("A", ["1"]),
        ("B", ["1", "2"]),
    ]
    spans = [read.text[slice(*read.bar_span(bar))] for bar in read.parts[1].bars]
    assert spans == ['<part id="B"><note/></part>', '<part id="B"/>']


def test_a_score_without_parts():
    with pytest.raises(InputError) as caught:
        read_score(b"<score-partwise><part-list/></score-partwise>")
    assert caught.value.code == "score.no-parts"


@pytest.mark.parametrize(
    "twice",
    [
        RESTS.replace(b"</score-partwise>", b'<part id="P1"/></score-partwise>'),
        RESTS.replace(b"</part-list>", b'<score-part id="P1"/></part-list>'),
        b'<score-timewise><measure><part id="P1"/><part id="P1"/></measure></score-timewise>',
    ],
)
def test_a_part_that_is_there_twice(twice):
    with pytest.raises(InputError, match="'P1' twice") as caught:
        read_score(twice)
    assert caught.value.code == "score.part-twice"


@pytest.mark.parametrize(("part_id", "says"), [(b"", "no id"), (b"x" * 300, "too long an id")])
def test_a_part_whose_id_no_record_can_keep(part_id, says):
    data = RESTS.replace(b'"P1"', b'"%s"' % part_id)
    with pytest.raises(RequestError, match=says) as caught:
        read_score(data).part("Alto Saxophone")
    assert caught.value.code == "score.part-id"


def test_white_space_around_ids_and_labels_is_nothing():
    """As the types ID and token of the schema have it."""
    data = RESTS.replace(b'"P1"', b'" P1 "', 1).replace(b'number="2"', b'number=" 2\n a "')
    part = read_score(data).part("P1")
    assert (part.name, part.bar("2 a").index) == ("Alto Saxophone", 1)

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lxml import etree

from reedchord.errors import InputError
from reedchord.musicxml.container import open_score
from reedchord.musicxml.fragment import Node, parse_fragment
from reedchord.musicxml.safe_xml import parse
from reedchord.musicxml.score_text import read_score_text
from truth.real_scores import NAMED

BAR = """<measure number="1">\r
  <!-- Fa𝄪 <note> -->
  <note xlink:role='a > b &amp; "c"'>\r<rest measure="yes" />
    <duration> 4 </duration ></note>
  <lyric><text>é&#x1D12A;<![CDATA[<x>]]></text><text/></lyric>
</measure>"""


def test_a_bar_with_all_that_makes_offsets_go_wrong():
    bar = parse_fragment(BAR)
    assert (bar.tag, bar.start, bar.end) == ("measure", 0, len(BAR))
    assert BAR[bar.close_start : bar.end] == "</measure>"
    note, lyric = bar.children
    assert BAR[note.start : note.open_end] == """<note xlink:role='a > b &amp; "c"'>"""
    assert note.get("xlink:role") == 'a > b & "c"'
    assert [child.source(BAR) for child in note.children] == [
        '<rest measure="yes" />',
        "<duration> 4 </duration >",
    ]
    assert lyric.source(BAR) == "<lyric><text>é&#x1D12A;<![CDATA[<x>]]></text><text/></lyric>"
    assert lyric.children[0].text == "é𝄪<x>"


def test_questions_to_a_note():
    note = parse_fragment(BAR).children[0]
    assert note.has("rest")
    assert not note.has("pitch")
    assert note.find("pitch") is None
    assert note.text_of("duration") == "4"
    assert note.text_of("rest") == ""
    assert note.text_of("type") is None
    assert note.get("id") is None
    assert note.get("id", "none") == "none"
    assert [rest.get("measure") for rest in note.find_all("rest")] == ["yes"]


def test_empty_elements_are_told_apart():
    texts = "<a><b/><b></b><b x='/'></b><b x='>'/></a>"
    first, second, third, fourth = parse_fragment(texts).children
    assert first.self_closing
    assert fourth.self_closing
    assert not second.self_closing
    assert not third.self_closing
    assert first.open_end == first.close_start == first.end
    assert texts[second.close_start : second.end] == "</b>"
    assert texts[third.close_start : third.end] == "</b>"


def test_only_text_before_the_first_child_counts():
    assert parse_fragment("<a>one<!-- two -->, three<b/>four</a>").text == "one, three"


@pytest.mark.parametrize("text", ["", "<a>", "<a></b>", "<a/><b/>", "<a>&foo;</a>", "words"])
def test_a_broken_fragment_is_our_own_fault(text):
    with pytest.raises(ValueError, match="no well-formed fragment"):
        parse_fragment(text)


@pytest.mark.parametrize("text", ["<a ٣='1'/>", "<a><٣/></a>"])
def test_names_that_only_some_readers_of_xml_take(text):
    """U+0663 begins a name since XML 1.0, 5th edition; lxml takes it, expat does not."""
    assert etree.fromstring(text).tag == "a"
    with pytest.raises(InputError) as caught:
        parse_fragment(text)
    assert caught.value.code == "xml.name"


@pytest.mark.parametrize("name", ["crlf gloria", "cr piano", "latin1 rests", "version 4 voices"])
def test_real_scores_give_the_tree_that_lxml_gives(name):
    score = read_score_text(open_score(NAMED[name].read_bytes()).data)
    stack: list[tuple[Node, etree._Element]] = [(parse_fragment(score.text), parse(score))]
    while stack:
        ours, theirs = stack.pop()
        assert ours.tag == theirs.tag
        assert ours.attributes == dict(theirs.attrib)
        if not any(child.tag is etree.Comment for child in theirs):
            assert ours.text == (theirs.text or "")
        stack += zip(ours.children, theirs.iterchildren("*"), strict=True)


@pytest.mark.parametrize("name", ["crlf gloria", "cr piano", "version 4 voices"])
def test_every_element_of_a_real_score_is_read_alone_as_in_its_place(name):
    text = read_score_text(open_score(NAMED[name].read_bytes()).data).text
    stack = list(parse_fragment(text).children)[-1:]
    seen = 0
    while stack and seen < 500:
        node = stack.pop()
        alone = parse_fragment(node.source(text))
        assert (alone.tag, alone.attributes, alone.text) == (node.tag, node.attributes, node.text)
        assert (alone.end, alone.close_start) == (
            node.end - node.start,
            node.close_start - node.start,
        )
        stack += node.children
        seen += 1
    assert seen > 30


NAMES = st.sampled_from(["note", "é", "p:ü", "a-b.c"])
SPACE = st.sampled_from(["", " ", "\r\n", "\t"])
VALUES = st.sampled_from(['"1"', "'>'", "'/>'", '"é𝄪"', "'</note>'"]).map(
    lambda value: value.replace("<", "&lt;")
)
FILLERS = st.sampled_from(
    [
        *("", "x", "é𝄪", "\r", "\r\n", "&amp;", "&#x1D12A;", "]]", ">", " 4 "),
        *("<!-- <note> 𝄪 -->", "<?p </note>?>", "<![CDATA[<note/>]]>"),
    ]
)


@st.composite
def written_elements(draw, depth: int = 3):
    """Draw an element as text, and the spans of its elements in document order.

    A span is name, start, end of the start tag, start of the end tag, end.
    """
    name = draw(NAMES)
    attributes = "".join(
        f" {key}{draw(SPACE)}={draw(SPACE)}{draw(VALUES)}"
        for key in draw(st.lists(st.sampled_from(["id", "ü", "x:y"]), unique=True))
    )
    opening = f"<{name}{attributes}{draw(SPACE)}"
    if draw(st.booleans()):
        end = len(opening) + 2
        return f"{opening}/>", [(name, 0, end, end, end)]
    text, inner = f"{opening}>", []
    for _ in range(draw(st.integers(0, 3)) if depth else 0):
        text += draw(FILLERS)
        child, spans = draw(written_elements(depth - 1))
        inner += [(tag, *(len(text) + place for place in places)) for tag, *places in spans]
        text += child
    text += draw(FILLERS)
    closing = f"</{name}{draw(SPACE)}>"
    own = (name, 0, len(opening) + 1, len(text), len(text) + len(closing))
    return text + closing, [own, *inner]


def spans_of(node: Node) -> list[tuple[str, int, int, int, int]]:
    own = (node.tag, node.start, node.open_end, node.close_start, node.end)
    return [own, *(span for child in node.children for span in spans_of(child))]


@given(st.sampled_from(["", "\r\n", "<!-- é -->"]), written_elements())
def test_spans_are_where_the_tags_were_written(before, written):
    text, spans = written
    expected = [(tag, *(len(before) + place for place in places)) for tag, *places in spans]
    assert spans_of(parse_fragment(before + text)) == expected

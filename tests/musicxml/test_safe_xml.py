import pytest
from hypothesis import given
from hypothesis import strategies as st
from lxml import etree

from reedchord.errors import InputError
from reedchord.musicxml.container import open_score
from reedchord.musicxml.safe_xml import parse, parse_any
from reedchord.musicxml.score_text import read_score_text
from truth.real_scores import NAMED

PUBLIC = '"-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd"'


def refusal(text: str, encoding: str = "utf-8") -> InputError:
    data = text.encode(encoding)
    with pytest.raises(InputError) as caught:
        parse(read_score_text(data), data)
    return caught.value


def score(content: str, doctype: str = "") -> str:
    return f'<?xml version="1.0"?>\n{doctype}<score-partwise>{content}</score-partwise>'


@pytest.mark.parametrize(
    "name",
    [
        "utf16 quartet",
        "bundled parts",
        "cr piano",
        "crlf gloria",
        "latin1 rests",
        "mxl with pdf",
        "mixed line ends",
    ],
)
def test_real_scores_read_as_lxml_alone_reads_them(name):
    data = open_score(NAMED[name].read_bytes()).data
    ours = parse(read_score_text(data), data)
    alone = etree.fromstring(data)
    assert etree.tostring(ours, method="c14n") == etree.tostring(alone, method="c14n")


def test_the_bytes_need_not_be_given():
    text = read_score_text("<score-timewise>é♯</score-timewise>".encode("utf-16"))
    assert parse(text).text == "é♯"


def test_comments_instructions_and_cdata_are_harmless():
    root = parse(
        read_score_text(
            b"<?xml version='1.0'?><!-- <!ENTITY no 'x'> --><?editor <!ENTITY?>"
            b"<!DOCTYPE score-partwise [<!-- <!ENTITY a 'b'> --><?x <!ENTITY ?>"
            b"<!ATTLIST note id CDATA 'a > b'>]>"
            b"<score-partwise><!-- &foo; --><a><![CDATA[&foo;<b>]]>&amp;&#233;&#x1D12A;</a>"
            b"</score-partwise>"
        )
    )
    assert root.findtext("a") == "&foo;<b>&é𝄪"


BILLION_LAUGHS = "".join(
    f'<!ENTITY lol{n} "{f"&lol{n - 1};" * 10 if n else "lol"}">' for n in range(10)
)


@pytest.mark.parametrize(
    "subset",
    [
        BILLION_LAUGHS,
        '<!ENTITY secret SYSTEM "file:///etc/hostname">',
        '<!ENTITY % outside SYSTEM "http://localhost/x.dtd"> %outside;',
        '%unknown; <!ENTITY later "x">',
        "<!-- ' --><!ENTITY hidden 'x'><!-- ' -->",
        "<?x ]> ?><!ENTITY hidden 'x'>",
    ],
)
def test_declared_entities_are_refused(subset):
    error = refusal(score("&lol9;", f"<!DOCTYPE score-partwise [{subset}]>"))
    assert error.code == "xml.entity"
    assert error.where.line == 2


TOKENS = ("<!-- ", "-->", "<?p ", "?>", "'", '"', "<!ENTITY e 'v'>", "<!ATTLIST a b CDATA ", ">")


@given(st.lists(st.sampled_from(TOKENS), max_size=8).map("".join))
def test_no_declaration_of_an_entity_escapes(subset):
    """lxml itself says which entities a document declares."""
    text = score("", f"<!DOCTYPE score-partwise [{subset}]>")
    try:
        tree = etree.fromstring(text.encode()).getroottree()
    except etree.XMLSyntaxError:
        return
    if list(tree.docinfo.internalDTD.iterentities()):
        assert refusal(text).code == "xml.entity"
    else:
        assert parse(read_score_text(text.encode())).tag == "score-partwise"


@pytest.mark.parametrize("doctype", ["", f"<!DOCTYPE score-partwise PUBLIC {PUBLIC}>"])
@pytest.mark.parametrize("content", ["<words>\n&nbsp;mf</words>", '<a>\n</a><b c="&nbsp;"/>'])
def test_entities_in_use_are_refused_rather_than_dropped(doctype, content):
    error = refusal(score(content, doctype))
    assert error.code == "xml.entity"
    assert "&nbsp;" in error.message
    assert error.where.line == 3


def test_faults_are_placed_in_a_score_with_carriage_returns_only():
    text = "<score-partwise>\r<part>\r  <note>é</nota>\r</part>\r</score-partwise>"
    error = refusal(text)
    assert error.code == "xml.malformed"
    assert str(error.where) == "line 3, column 12"
    assert "an end tag does not match its start tag; <note> is still open" in error.message


def test_faults_are_placed_beyond_the_lines_that_lxml_can_count():
    error = refusal(score("\n" * 70_000 + "<a b='1' b='2'/>"))
    assert (error.where.line, error.where.column) == (70_002, 10)
    assert "same attribute twice" in error.message


def test_a_truncated_score_says_what_is_still_open():
    text = read_score_text(open_score(NAMED["utf16 quartet"].read_bytes()).data).text
    error = refusal(text[: text.index("</measure>")], "utf-16")
    assert error.code == "xml.malformed"
    assert "ends too early; <measure> is still open" in error.message


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (score("\x07"), "a character stands where XML does not allow it"),
        (score("") + "<part/>", "something follows after the end"),
        (score("<a x:y='1'/>"), "prefix whose namespace is not declared"),
        (" " + score(""), "something stands before the XML declaration"),
        (score("<![CDATA["), "CDATA section is not finished"),
        ("<!-- only a remark -->", "the document ends too early"),
        ("<!-- not finished", "a tag or a comment is not finished"),
    ],
)
def test_malformed_xml_is_explained(text, says):
    error = refusal(text)
    assert error.code == "xml.malformed"
    assert says in error.message
    assert error.where.line is not None
    assert error.where.column is not None


def test_depth_is_limited():
    error = refusal(score("<a>" * 10_000 + "</a>" * 10_000))
    assert error.code == "xml.depth"


def test_one_text_is_limited():
    error = refusal(score("x" * 10_500_000))
    assert error.code == "xml.size"


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("<html><body/></html>", "its root is <html>"),
        ("<opus/>", "a list of scores"),
        ('<container xmlns="urn:x"/>', "table of contents of an .mxl package"),
        ('<score-partwise xmlns="urn:x"/>', "lie in the namespace 'urn:x'"),
    ],
)
def test_other_roots_are_named(text, says):
    error = refusal(text)
    assert error.code == "score.not-musicxml"
    assert says in error.message


def test_any_root_will_do_for_other_xml():
    assert parse_any(read_score_text(b"<container/>")).tag == "container"

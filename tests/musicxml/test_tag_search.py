"""Tags in the text of a document, and what only looks like one."""

import pytest

from reedchord.musicxml.tag_search import element_spans, tags


def found(text, tag="measure"):
    return [match[0] for match in tags(text, tag)]


def spans(text, tag="measure"):
    return [text[start:end] for start, end in element_spans(text, tag)]


def test_start_end_and_empty_tags():
    text = '<measure number="1"><note/></measure><measure/>'
    assert found(text) == ['<measure number="1">', "</measure>", "<measure/>"]


@pytest.mark.parametrize(
    "text",
    [
        "<!-- <measure> -->",
        "<!-- a > b -- <measure/>\n-->",
        "<![CDATA[<measure>]]>",
        "<?print <measure>?>",
        "<measure-style></measure-style>",
        "<measures/>",
        "<measure-numbering>none</measure-numbering>",
        '<words font="<measure>"/>'.replace("<measure>", "&lt;measure>"),
    ],
)
def test_what_is_no_tag_of_this_name(text):
    assert found(text) == []


@pytest.mark.parametrize(
    "tag",
    [
        "<measure>",
        "<measure\n\tnumber = '1' >",
        '<measure text="a > b">',
        "<measure text='/>'>",
        "<measure number='1'\r\n/>",
        "</measure\n>",
    ],
)
def test_tags_however_they_are_written(tag):
    assert found(f"<a>{tag}<b>") == [tag]


def test_elements_with_their_content():
    text = "<p><measure>1<!-- </measure> --></measure> <measure n='/>'>2</measure><measure /></p>"
    assert spans(text) == [
        "<measure>1<!-- </measure> --></measure>",
        "<measure n='/>'>2</measure>",
        "<measure />",
    ]


def test_a_tag_whose_attribute_ends_in_a_slash_is_not_empty():
    assert spans('<measure text="a/"><note/></measure>') == ['<measure text="a/"><note/></measure>']


def test_from_a_place_on():
    assert [match.start() for match in tags("<part/><part/>", "part", 1)] == [7]

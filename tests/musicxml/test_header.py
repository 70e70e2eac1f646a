"""Our field in a score's header, whatever the header is like."""

import pytest

from reedchord.musicxml.document import read_score
from reedchord.musicxml.header import field_span, field_text, new_field_edit
from reedchord.musicxml.splice import splice
from samples import note, score
from truth.musicxml_schema import schema_errors

FIELD = '<miscellaneous-field name="reedchord">{}</miscellaneous-field>'
AROUND = f"<identification><miscellaneous>{FIELD}</miscellaneous></identification>"
OTHER = '<miscellaneous-field name="other">1</miscellaneous-field>'


def with_field(header):
    """Return the header with our field in it, checked against the schema and read back."""
    data = score(note(quarters=4, type_="whole"), header=header)
    before = read_score(data)
    after = splice(before.text, [new_field_edit(before, "{}")])
    # MusicXML 4.0 XSD.
    assert schema_errors(data) == schema_errors(after.encode()) == []
    again = read_score(after.encode())
    assert field_text(again) == "{}"
    span = field_span(again)
    assert after[span.start : span.end] == "{}"
    return after[after.index('"4.0">') + 6 : after.index("<part-list>")]


@pytest.mark.parametrize(
    ("header", "expected"),
    [
        pytest.param("", AROUND, id="no header"),
        pytest.param("<identification/>", AROUND, id="empty identification"),
        pytest.param("<identification></identification>", AROUND, id="identification, no content"),
        pytest.param(
            "<identification><miscellaneous/></identification>", AROUND, id="empty miscellaneous"
        ),
        pytest.param(
            "<identification><rights>none</rights></identification>",
            "<identification><rights>none</rights>"
            f"<miscellaneous>{FIELD}</miscellaneous></identification>",
            id="rights",
        ),
        pytest.param(
            f"<identification><miscellaneous>{OTHER}</miscellaneous></identification>",
            f"<identification><miscellaneous>{OTHER}{FIELD}</miscellaneous></identification>",
            id="another program's field",
        ),
        pytest.param(
            "<movement-title>Reeds</movement-title><defaults/>",
            f"<movement-title>Reeds</movement-title>{AROUND}<defaults/>",
            id="between title and defaults",
        ),
        pytest.param(
            "<!-- <identification><miscellaneous> -->",
            f"{AROUND}<!-- <identification><miscellaneous> -->",
            id="a comment that holds tags",
        ),
        pytest.param(
            "\n  <work>\n    <work-title>Reeds</work-title>\n  </work>\n  ",
            f"\n  <work>\n    <work-title>Reeds</work-title>\n  </work>\n  {AROUND}\n  ",
            id="indented",
        ),
    ],
)
def test_the_field_stands_where_the_schema_has_it(header, expected):
    assert with_field(header) == expected


def test_comments_before_the_root_may_hold_tags():
    data = score(note(quarters=4, type_="whole"))
    comment = b'<!-- <score-partwise version="1.0"><part id="P0"> -->\n<score-partwise'
    before = read_score(data.replace(b"<score-partwise", comment, 1))
    after = splice(before.text, [new_field_edit(before, "{}")])
    assert f'version="4.0">{AROUND}<part-list>' in after


def test_a_score_without_our_field():
    header = f"<identification><miscellaneous>{OTHER}</miscellaneous></identification>"
    read = read_score(score(note(), header=header))
    assert field_text(read) is None
    assert field_span(read) is None


def test_an_empty_field_has_text_but_no_span():
    field = '<miscellaneous-field name="reedchord"/>'
    header = f"<identification><miscellaneous>{field}</miscellaneous></identification>"
    read = read_score(score(note(), header=header))
    assert field_text(read) == ""
    assert field_span(read) is None


def test_a_timewise_score():
    cells = b'<part-list/><measure><part id="P1"/></measure>'
    data = b"<score-timewise>" + cells + b"</score-timewise>"
    read = read_score(data)
    after = splice(read.text, [new_field_edit(read, "{}")])
    assert after == data.decode().replace("<part-list/>", f"{AROUND}<part-list/>")


def test_an_attribute_of_an_emptied_element_is_kept():
    header = "<identification xml:lang='de'/>"
    data = score(note(), header=header)
    read = read_score(data)
    after = splice(read.text, [new_field_edit(read, "{}")])
    assert f'<identification xml:lang="de"><miscellaneous>{FIELD}' in after

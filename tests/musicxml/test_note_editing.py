"""One note changes, and no byte of it more than it must."""

import pytest

from reedchord.musicxml.fragment import parse_fragment
from reedchord.musicxml.note_editing import NoteEditor, space_before
from reedchord.musicxml.splice import splice


def edited(text, *changes):
    """Return the note after each change: a method's name and its arguments."""
    editor = NoteEditor(text, parse_fragment(text))
    for name, *arguments in changes:
        getattr(editor, name)(*arguments)
    return splice(text, editor.edits())


REST = "<note>\n  <rest/>\n  <duration>4</duration>\n  <voice>1</voice>\n</note>"


@pytest.mark.parametrize(
    ("text", "position", "space"),
    [("a \n\tb", 4, " \n\t"), ("ab", 1, ""), ("  a", 2, "  "), ("a\r\nb", 3, "\r\n"), ("a", 0, "")],
)
def test_the_white_space_before_a_place(text, position, space):
    assert space_before(text, position) == space


def test_no_change_is_no_edit():
    assert edited(REST) == REST


def test_a_rest_becomes_a_pitch():
    assert edited(REST, ("replace_one_of", ("pitch", "rest"), "<pitch/>")) == REST.replace(
        "<rest/>", "<pitch/>"
    )


def test_a_removed_child_takes_its_line_along():
    text = REST.replace("</note>", "  <accidental>sharp</accidental>\n</note>")
    assert edited(text, ("remove", "accidental", "notehead")) == REST


@pytest.mark.parametrize(
    ("tag", "after"),
    [
        ("footnote", "<duration>4</duration>"),
        ("type", "<voice>1</voice>"),
        ("accidental", "<voice>1</voice>"),
        ("tie", "<duration>4</duration>"),
        ("lyric", "<voice>1</voice>"),
    ],
)
def test_a_new_child_stands_in_the_schema_s_order_on_a_line_of_its_own(tag, after):
    assert edited(REST, ("add", tag, f"<{tag}/>")) == REST.replace(after, f"{after}\n  <{tag}/>")


def test_children_that_share_a_point_come_in_the_schema_s_order():
    changes = [("add", tag, f"<{tag}/>") for tag in ("lyric", "notehead", "accidental", "type")]
    text = "<note><rest/><voice>1</voice></note>"
    assert edited(text, *changes) == (
        "<note><rest/><voice>1</voice><type/><accidental/><notehead/><lyric/></note>"
    )


def test_cents_lines_keep_their_order():
    lyrics = [("add", "lyric", f'<lyric number="{number}"/>') for number in (1, 2, 3)]
    assert edited("<note/>".replace("/>", "><rest/></note>"), *lyrics) == (
        '<note><rest/><lyric number="1"/><lyric number="2"/><lyric number="3"/></note>'
    )


def test_a_tie_is_two_elements():
    assert edited("<note><rest/><duration>1</duration></note>", ("ensure_tie", "start")) == (
        '<note><rest/><duration>1</duration><tie type="start"/>'
        '<notations><tied type="start"/></notations></note>'
    )


def test_a_tie_that_is_there_stays_as_it_is():
    text = "<note><rest/><tie type='start'/><notations><tied type='start'/></notations></note>"
    assert edited(text, ("ensure_tie", "start")) == text


def test_both_ends_of_ties():
    text = "<note><rest/></note>"
    assert edited(text, ("ensure_tie", "stop"), ("ensure_tie", "start")) == (
        '<note><rest/><tie type="stop"/><tie type="start"/>'
        '<notations><tied type="stop"/><tied type="start"/></notations></note>'
    )


FINGERING = '<fingering placement="above">L 1</fingering>'


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("", f"<notations><technical>{FINGERING}</technical></notations>"),
        (
            "<notations><slur/></notations>",
            f"<notations><slur/><technical>{FINGERING}</technical></notations>",
        ),
        (
            "<notations><technical><open-string/></technical></notations>",
            f"<notations><technical><open-string/>{FINGERING}</technical></notations>",
        ),
        (
            "<notations><technical/></notations>",
            f"<notations><technical/><technical>{FINGERING}</technical></notations>",
        ),
        (
            "<notations/>",
            f"<notations/><notations><technical>{FINGERING}</technical></notations>",
        ),
    ],
)
def test_a_fingering_joins_the_marks_that_are_there(before, after):
    assert edited(f"<note><rest/>{before}</note>", ("add_fingering", "L 1")) == (
        f"<note><rest/>{after}</note>"
    )


def test_a_fingering_and_a_tie_share_new_notations():
    text = "<note><rest/></note>"
    assert edited(text, ("ensure_tie", "start"), ("add_fingering", "L 1")) == (
        '<note><rest/><tie type="start"/><notations><tied type="start"/>'
        f"<technical>{FINGERING}</technical></notations></note>"
    )


def test_a_fingering_s_text_is_escaped():
    assert "L &lt; 1 &amp; 2" in edited("<note><rest/></note>", ("add_fingering", "L < 1 & 2"))


def test_an_id_joins_the_tag_and_an_older_one_stays():
    assert edited('<note color="red"><rest/></note>', ("set_id", "rc-1-1")) == (
        '<note color="red" id="rc-1-1"><rest/></note>'
    )
    assert edited("<note id='a'><rest/></note>", ("set_id", "rc-1-1")) == (
        "<note id='a'><rest/></note>"
    )

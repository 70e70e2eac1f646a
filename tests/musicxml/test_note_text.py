"""Notes as text: what is not named stays to the byte."""

from reedchord.musicxml.fragment import parse_fragment
from reedchord.musicxml.note_text import NoteText, pruned

NOTE = """<note id="rc-1-1" color="#808080">
    <pitch><step>C</step><octave>4</octave></pitch>
    <duration>1</duration>
    <!-- softly --><voice>1</voice>
    <type>quarter</type>
  </note>"""


def note():
    return NoteText(NOTE, parse_fragment(NOTE))


def test_untouched_it_is_the_same_text():
    assert str(note()) == NOTE


def test_a_child_goes_with_its_white_space_and_comments_stay():
    text = note()
    text.drop("voice", "duration")
    assert str(text) == NOTE.replace("\n    <duration>1</duration>", "").replace(
        "<voice>1</voice>", ""
    )


def test_a_child_goes_where_the_schema_has_it():
    text = note()
    text.add("<accidental>sharp</accidental>")
    assert str(text) == NOTE.replace("</type>", "</type>\n    <accidental>sharp</accidental>")


def test_what_is_put_takes_the_place_of_the_first():
    text = note()
    text.put(("rest", "pitch"), "<rest/>")
    assert str(text) == NOTE.replace("<pitch><step>C</step><octave>4</octave></pitch>", "<rest/>")


def test_attributes_go_only_where_they_match():
    text = note()
    text.drop_attribute("id", "rc-[^\"']*")
    text.drop_attribute("color", "#000000")
    assert str(text) == NOTE.replace(' id="rc-1-1"', "")


def test_a_notation_joins_those_that_are_there():
    text = note()
    text.add_notation("<fermata/>")
    text.add_notation("<arpeggiate/>")
    assert "<notations><fermata/><arpeggiate/></notations>" in str(text)


def is_fingering(node):
    return node.tag == "fingering"


def cut(text):
    return pruned(text, parse_fragment(text), is_fingering)


def test_what_is_left_empty_goes_too():
    assert cut("<notations><technical><fingering>1</fingering></technical></notations>") is None
    assert (
        cut("<notations><slur/><technical><fingering>1</fingering></technical></notations>")
        == "<notations><slur/></notations>"
    )


def test_nothing_unwanted_nothing_changed():
    text = "<notations>\n  <technical>\n    <open-string/>\n  </technical>\n</notations>"
    assert cut(text) == text


def test_white_space_before_an_end_tag_stays():
    written = "<notations>\n  <slur/>\n<technical><fingering>1</fingering></technical></notations>"
    assert cut(written) == "<notations>\n  <slur/>\n</notations>"

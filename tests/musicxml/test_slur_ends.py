"""Ends of slurs, and which belong together (MusicXML 4.0, element slur)."""

from reedchord.musicxml.bar_texts import BarTexts
from reedchord.musicxml.document import read_score
from reedchord.musicxml.slur_ends import slur_ends, slur_partners
from samples import note, score


def marked(pitch, *slurs, voice="1", more=""):
    notations = "".join(f"<notations>{slur}</notations>" for slur in slurs)
    text = note(pitch).replace("<voice>1", f"<voice>{voice}").replace("<note>", f"<note>{more}")
    return text.replace("</note>", f"{notations}</note>")


def start(number=1, look=""):
    return f'<slur type="start" number="{number}"{look}/>'


def stop(number=1):
    return f'<slur type="stop" number="{number}"/>'


def ends(*bars):
    return slur_ends(read_score(score(*bars)).parts[0])


def pairs(*bars):
    """Return the slurs as (bar, child of the start), (bar, child of the end)."""
    found = slur_partners(ends(*bars))
    return [
        ((one.bar_index, one.child), (other.bar_index, other.child))
        for one, other in found.items()
        if one.way == "start"
    ]


def test_each_end_says_where_and_how_it_stands():
    chord = marked("E5", start(2, ' placement="above" id="mine"'), more="<chord/>")
    first, second = ends(marked("C5", stop(3)) + chord)
    # The bar begins with its attributes.
    assert (first.child, first.chord, first.way, first.number) == (1, 1, "stop", "3")
    assert (second.child, second.chord, second.way, second.number) == (2, 1, "start", "2")
    assert (first.is_plain, second.is_plain) == (True, False)
    assert (first.id, second.id) == (None, "mine")


def test_a_slur_without_a_number_has_number_1_and_one_that_goes_on_is_no_end():
    (one,) = ends(marked("C5", '<slur type="start"/>') + marked("D5", '<slur type="continue"/>'))
    assert one.number == "1"


def test_where_one_stands_in_the_document():
    data = score(marked("C5", stop(), start(2)), marked("D5", start(3)))
    read = read_score(data)
    bars = BarTexts(read)
    for end in slur_ends(read.parts[0]):
        offset = end.offset_in(bars.of(read.parts[0].bars[end.bar_index]))
        assert read.text[offset:].startswith(f'<slur type="{end.way}" number="{end.number}"')


def test_slurs_lead_over_barlines_and_one_ends_where_the_next_begins():
    bars = [marked("C5", start()), marked("D5", start(), stop()), marked("E5", stop())]
    assert pairs(*bars) == [((0, 1), (1, 0)), ((1, 0), (2, 0))]


def test_numbers_and_voices_tell_slurs_apart():
    other = marked("E4", start(), voice="2") + marked("F4", stop(), voice="2")
    back = "<backup><duration>2</duration></backup>"
    one = marked("C5", start(), start(2)) + marked("D5", stop(2))
    assert pairs(one + back + other, marked("E5", stop())) == [
        ((0, 1), (0, 2)),
        ((0, 4), (0, 5)),
        ((0, 1), (1, 0)),
    ]


def test_with_one_number_the_shorter_slur_lies_inside_the_longer():
    bars = marked("C5", start()), marked("D5", start()), marked("E5", stop()), marked("F5", stop())
    assert pairs(*bars) == [((1, 0), (2, 0)), ((0, 1), (3, 0))]


def test_an_end_alone_has_no_partner():
    assert pairs(marked("C5", start()), marked("D5", stop(2)), marked("E5", start(2))) == []

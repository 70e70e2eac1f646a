"""A score comes back as it was, byte by byte, unless somebody edited it."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reedchord.musicxml.document import read_score
from reedchord.placement.place import place
from reedchord.placement.undo import original_text
from samples import BAR_REST, COLLECTION, RESTS, at, note, score

HEADERS = [
    "",
    "<identification/>",
    (
        "<work><work-title>Ré</work-title></work>\n<identification>\n  <rights>none</rights>\n"
        "</identification>"
    ),
    "<identification><miscellaneous/></identification>",
    (
        "<identification><encoding/><miscellaneous>\n<miscellaneous-field name='x'>1"
        "</miscellaneous-field>\n</miscellaneous></identification>"
    ),
    "<!-- <identification><miscellaneous> --><movement-title>A &amp; B</movement-title>",
    '<identification note="{} &#9839;"/>',  # no valid one has attributes
]


def restored(data):
    read = read_score(data)
    record = place(data, [], COLLECTION).record
    text = original_text(read, record)
    return None if text is None else read.source.with_text(text).encode()


@pytest.mark.parametrize("header", HEADERS)
@pytest.mark.parametrize("newline", ["\n", "\r\n", "\r"])
def test_the_bytes_come_back_whatever_the_header_and_the_line_ends(header, newline):
    data = score(note() * 4, note() * 4, header=header).replace(b"\n", newline.encode())
    placed = place(data, [at(1, 2), at(2)], COLLECTION)
    assert placed.data != data
    assert restored(placed.data) == data


@pytest.mark.parametrize("header", [HEADERS[2], HEADERS[-1]])
@pytest.mark.parametrize("encoding", ["utf-16", "iso-8859-1", "utf-8-sig"])
def test_the_bytes_come_back_in_every_encoding(encoding, header):
    declared = encoding.removesuffix("-sig")
    text = score(note() * 4, header=header).decode().replace("UTF-8", declared)
    data = text.encode(encoding)
    placed = place(data, [at(1)], COLLECTION)
    assert placed.data[:2] == data[:2]
    assert restored(placed.data) == data


def test_two_rounds_of_placing_come_back_to_the_same_score():
    once = place(RESTS, [at(3)], COLLECTION)
    assert restored(place(once.data, [at(1, 1, "egret")], COLLECTION).data) == RESTS


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (b"</part-name>", b" 1</part-name>"),
        (b"<step>E</step>", b"<step>F</step>"),
        (b"</score-partwise>\n", b"</score-partwise>\n\n"),
    ],
)
def test_an_edited_score_is_not_given_back(old, new):
    placed = place(RESTS, [at(1)], COLLECTION).data
    assert old in placed
    assert restored(placed.replace(old, new, 1)) is None


def test_a_score_that_was_edited_before_has_no_way_back():
    edited = place(RESTS, [at(1)], COLLECTION).data.replace(b"Alto Sax", b"1st Alto Sax")
    again = place(edited, [at(2)], COLLECTION)
    assert again.record.undo is None
    assert restored(again.data) is None


_BARS = st.lists(
    st.lists(
        st.sampled_from(
            [
                note(),
                note("C5"),
                note("F4").replace("<note>", "<note>\n      "),
                note("D4") + note("A4").replace("<note>", "<note><chord/>"),
                "<!-- é -->" + note(),
            ]
        ),
        min_size=4,
        max_size=4,
    ).map("".join)
    | st.just(BAR_REST.format(4)),
    min_size=3,
    max_size=3,
)
_WISHES = st.lists(
    st.tuples(st.integers(1, 3), st.sampled_from(["heron", "egret", "crane"])),
    min_size=1,
    max_size=3,
    unique_by=lambda wish: wish[0],
)


@settings(max_examples=60, deadline=None)
@given(bars=_BARS, header=st.sampled_from(HEADERS), wishes=_WISHES)
def test_any_score_comes_back_and_the_order_of_wishes_does_not_matter(bars, header, wishes):
    data = score(*bars, header=header)
    placements = [at(bar, 1, name) for bar, name in wishes]
    placed = place(data, placements, COLLECTION)
    assert restored(placed.data) == data
    assert place(data, placements[::-1], COLLECTION).data == placed.data
    one_by_one = data
    for placement in placements:
        one_by_one = place(one_by_one, [placement], COLLECTION).data
    assert one_by_one == placed.data

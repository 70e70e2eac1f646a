"""Sonorities on grace notes, and under rests of several bars."""

import pytest

from reedchord.errors import RequestError
from reedchord.placement.place import place
from reedchord.placement.strip import strip
from samples import BAR_REST, COLLECTION, at, note, score
from truth.engraving import engraved
from truth.musicxml_schema import schema_errors

SLASHED = '<grace slash="yes"/>'


def grace(pitch, more=""):
    plain = note(pitch, type_="eighth").replace("<duration>1</duration>", "")
    return plain.replace("<note>", f"<note>{SLASHED}{more}")


GRACES = score(note("C5") + grace("D5") + grace("F5") + note("E5") + note() * 2)


def placed(data, *wishes):
    result = place(data, wishes, COLLECTION)
    assert schema_errors(result.data) == schema_errors(data)
    assert strip(result.data).data == data
    assert place(result.data, wishes, COLLECTION).data == result.data
    return result


def test_a_grace_note_becomes_a_chord_of_grace_notes():
    result = placed(GRACES, at(1, 2, grace=2))
    assert result.after.count(SLASHED) == 1 + 3
    assert "<step>D</step>" in result.after
    assert result.after.count("<step>F</step>") == 0
    assert engraved(result.data).notehead_count == engraved(GRACES).notehead_count + 2
    row = result.record.placements[0]
    assert (row.wish.grace, row.duration_quarters) == (2, "0")


def test_grace_notes_and_the_note_after_them_are_places_of_their_own():
    result = placed(GRACES, at(1, 2, grace=1), at(1, 2, name="egret"), at(1, 2, grace=2))
    assert [row.label for row in result.record.placements] == ["M1", "M1", "M2"]
    assert engraved(result.data).notehead_count == 1 + 3 + 3 + 2


def test_a_chord_of_grace_notes_gives_way_whole():
    data = score(grace("D5") + grace("F5", "<chord/>") + note("E5") + note() * 3)
    result = placed(data, at(1, grace=1, name="egret"))
    assert result.after.count(SLASHED) == 2
    assert "<step>F</step>" not in result.after


@pytest.mark.parametrize(
    ("wish", "code", "words"),
    [
        (at(1, 2, grace=3), "address.no-such-grace", "2 stand here"),
        (at(1, 1, grace=1), "address.no-such-grace", "None stands here"),
        (at(1, 2, grace=1, lasting="half"), "lasting.grace", "--for"),
    ],
)
def test_graces_that_are_not_there(wish, code, words):
    with pytest.raises(RequestError) as wrong:
        place(GRACES, [wish], COLLECTION)
    assert wrong.value.code == code
    assert words in str(wrong.value)


def test_a_grace_note_that_is_tied_on():
    data = score(grace("D5").replace("<voice>", '<tie type="start"/><voice>') + note() * 4)
    with pytest.raises(RequestError, match="tied to another note"):
        place(data, [at(1, grace=1)], COLLECTION)


def multi(count, inside=""):
    style = f"<measure-style><multiple-rest>{count}</multiple-rest></measure-style>"
    return f"<attributes>{inside}{style}</attributes>"


REST = BAR_REST.format(4)
KEY = "<key><fifths>0</fifths></key>"


def multi_rests(data):
    """Return the number of each bar that begins a multi-bar rest with its length."""
    pieces = data.decode().split("<measure ")[1:]
    return {
        piece.split('"')[1]: piece.partition("<multiple-rest>")[2].partition("<")[0]
        for piece in pieces
        if "<multiple-rest" in piece
    }


@pytest.mark.parametrize(
    ("wishes", "expected"),
    [
        ([at(2)], {"3": "5"}),
        ([at(3)], {"4": "4"}),
        ([at(4)], {"2": "2", "5": "3"}),
        ([at(7)], {"2": "5"}),
        ([at(6)], {"2": "4"}),
        ([at(3), at(6)], {"4": "2"}),
        ([at(4, 3, lasting="whole")], {"2": "2", "6": "2"}),
        ([at(4, 2, lasting="quarter")], {"2": "2", "5": "3"}),
    ],
)
def test_a_multi_bar_rest_is_divided(wishes, expected):
    data = score(note("C5") * 4, multi(6) + REST, *[REST] * 5, note("C5") * 4)
    result = placed(data, *wishes)
    assert multi_rests(result.data) == expected
    assert any("multi-bar rest of bars 2 to 7 is divided" in told for told in result.warnings)
    # verovio draws the chord only where no multi-bar rest covers it.
    heads = sum(done.noteheads for done in result.placed)
    assert engraved(result.data).notehead_count == 8 + heads


def test_a_multi_bar_rest_inside_another_is_not_understood():
    data = score(multi(3) + REST, multi(5) + REST, *[REST] * 4)
    with pytest.raises(RequestError, match="begins in bar 2, inside the one from bar 1") as wrong:
        place(data, [at(1)], COLLECTION)
    assert wrong.value.code == "address.multi-bar-rest"


def repeat_sign(way):
    text = f'<measure-repeat type="{way}">{1 if way == "start" else ""}</measure-repeat>'
    return f"<attributes><measure-style>{text}</measure-style></attributes>"


def test_a_bar_that_repeats_another_by_a_sign_shows_no_chord():
    data = score(REST, repeat_sign("start") + REST, REST, repeat_sign("stop") + REST)
    for bar in (2, 3):
        with pytest.raises(RequestError, match="sign that repeats") as wrong:
            place(data, [at(bar)], COLLECTION)
        assert wrong.value.code == "address.repeat-sign"
    assert placed(data, at(4)).warnings == ()
    assert any("repeats the bar before, and M1" in told for told in placed(data, at(1)).warnings)


def test_attributes_of_other_kinds_stay():
    data = score(
        note("C5") * 4, multi(3, KEY) + REST, f"<attributes>{KEY}</attributes>{REST}", REST
    )
    result = placed(data, at(2))  # the bar that begins the rest of bars 2 to 4
    assert result.after.count(KEY) == 2
    assert multi_rests(result.data) == {"3": "2"}


def test_a_grace_chord_is_found_and_taken_out_of_an_edited_score():
    edited = placed(GRACES, at(1, 2, grace=2), at(1, 3)).data.replace(b"<step>C<", b"<step>A<", 1)
    taken = strip(edited)
    assert taken.data == GRACES.replace(b"<step>C<", b"<step>A<", 1)

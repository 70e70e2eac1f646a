import pytest

from reedchord.musicxml.splice import Edit, add_if_free, inverse, splice, untouched_is_equal

BAR = "<note><rest/></note>"


def test_edits_are_made_together_whatever_their_order():
    edits = [Edit(20, 20, "<backup/>"), Edit(6, 13, "<pitch/>"), Edit(0, 0, "<print/>")]
    assert splice(BAR, edits) == "<print/><note><pitch/></note><backup/>"


def test_insertions_at_one_point_keep_their_order_and_precede_a_replacement():
    edits = [Edit(6, 13, "<pitch/>"), Edit(6, 6, "<grace/>"), Edit(6, 6, "<chord/>")]
    assert splice(BAR, edits) == "<note><grace/><chord/><pitch/></note>"


def test_no_edit_is_no_change():
    assert splice(BAR, []) == BAR
    assert inverse([], BAR) == ()


@pytest.mark.parametrize(
    "edits",
    [
        [Edit(0, 6, ""), Edit(5, 7, "")],
        [Edit(0, 6, ""), Edit(3, 3, "x")],
        [Edit(-1, 0, "")],
        [Edit(0, 21, "")],
        [Edit(2, 1, "")],
    ],
)
def test_overlaps_and_places_outside_are_our_own_fault(edits):
    for function in (splice, lambda text, wrong: inverse(wrong, text)):
        with pytest.raises(ValueError, match="overlaps another edit or leaves"):
            function(BAR, edits)


@pytest.mark.parametrize(
    ("new", "equal"),
    [
        ("<note><pitch/></note>", True),
        ("<note><PITCH/></note>", True),
        ("<Note><pitch/></note>", False),
        ("<note><pitch/></note>\n", False),
        ("<note><pitch/></Note>", False),
        ("<note>", False),
        ("", False),
    ],
)
def test_only_what_lies_outside_the_edits_is_compared(new, equal):
    assert untouched_is_equal(BAR, new, [Edit(6, 13, "<pitch/>")]) is equal


def test_undoing_moves_later_edits_along():
    edits = [Edit(0, 0, "<print/>"), Edit(6, 13, "<pitch/>"), Edit(20, 20, "!")]
    assert inverse(edits, BAR) == (Edit(0, 8, ""), Edit(14, 22, "<rest/>"), Edit(29, 30, ""))


def test_edits_are_sorted_in_all_or_none():
    done = []
    assert add_if_free(done, [Edit(6, 13, "<pitch/>"), Edit(0, 6, "")])
    assert add_if_free(done, [Edit(6, 6, "<grace/>"), Edit(6, 6, "<chord/>")])
    assert not add_if_free(done, [Edit(13, 20, ""), Edit(12, 14, "")])
    assert not add_if_free(done, [Edit(13, 20, ""), Edit(15, 15, "x")])
    assert not add_if_free(done, [Edit(4, 5, "")])
    assert splice(BAR, done) == "<grace/><chord/><pitch/></note>"
    assert [edit.start for edit in done] == [0, 6, 6, 6]

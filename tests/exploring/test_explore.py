"""New fingerings from known ones: playable, new, the easiest first, relatives together."""

import io

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from reedchord.drawing.paper import Paper
from reedchord.errors import ReedchordError, RequestError
from reedchord.exploring.explore import PALM_BESIDE_FINGER, Kind, explore
from reedchord.exploring.explore_report import exploration_data, exploration_text
from reedchord.exploring.explore_start import starting_from
from reedchord.exploring.ordinary_fingerings import (
    ORDINARY_NOTES,
    ordinary_fingering,
    ordinary_notes,
)
from reedchord.fingering import Amount, finger_warnings, unknown_keys
from reedchord.fingering_text import parse_fingering
from reedchord.pages.explore_sheet import sheet_html, sheet_pdf, try_sheet
from reedchord.pitch import parse_pitch
from reedchord.saxophones import FAMILY, saxophone
from reedchord.wording import CAUTIONS
from samples import COLLECTION, sonority

ALTO = saxophone("alto")
LOW_C = ordinary_fingering(parse_pitch("C4"), ALTO)
G = ordinary_fingering(parse_pitch("G4"), ALTO)


def texts(found):
    return [str(one.fingering) for one in found.to_try]


def test_low_c_with_the_right_first_finger_lifted_is_among_the_easiest():
    """Common practice, no source: it splits on any saxophone."""
    assert "left 1 2 3 | right 2 3, low C" in texts(explore(LOW_C, ALTO, most=6))


@settings(deadline=None, max_examples=40)
@given(
    note=st.sampled_from(ORDINARY_NOTES[5:-1]),
    member=st.sampled_from(list(FAMILY.values())),
    changes=st.sampled_from([1, 2]),
)
def test_everything_can_be_held_is_there_and_is_no_ordinary_note(note, member, changes):
    home = note.fingerings[0]
    ordinary = {f for one in ordinary_notes(member) for f in one.fingerings}
    found = explore(home, member, changes=changes, most=40)
    for one in found.to_try:
        if PALM_BESIDE_FINGER not in one.remarks:
            assert not finger_warnings(one.fingering)
        assert not unknown_keys(one.fingering, member.name)
        assert one.fingering not in ordinary
        differing = set(home.pressed) ^ set(one.fingering.pressed)
        assert len({key for key, _ in differing}) == len(one.changes) <= changes
    assert len(set(texts(found))) == len(found.to_try)


def test_kinds_of_change():
    made = {change for one in explore(G, ALTO, changes=1).to_try for change in one.changes}
    kinds = {(change.kind, change.key) for change in made}
    for wanted in (
        (Kind.LIFT, "A"),
        (Kind.HALF, "B"),
        (Kind.ADD, "side C"),
        (Kind.ADD, "palm D"),
        (Kind.ADD, "low B"),
    ):
        assert wanted in kinds
    assert (Kind.ADD, "octave") not in kinds  # that is the ordinary G5
    half = parse_fingering("left 1 half 2 3 | right 0")
    assert (Kind.CLOSE, "A") not in {
        (change.kind, change.key)
        for one in explore(half, ALTO, changes=1).to_try
        for change in one.changes
    }  # that is the ordinary G4


def test_what_makes_no_difference_is_left_out():
    """Common practice, no source: the right hand holds G sharp closed, A closes bis."""
    found = explore(LOW_C, ALTO, changes=1)
    assert not {"add G♯", "add bis"} & {one.words() for one in found.to_try}


def test_the_collection_is_left_out_for_its_own_saxophone():
    lifted = "left 1 2 3 | right 2 3, low C"
    alto = sonority("reed-a", "F#4", "G5", fingering=lifted)
    tenor = sonority("reed-t", "F#4", "G5", fingering=lifted, saxophone="tenor")
    assert lifted in texts(explore(LOW_C, ALTO, collection=[tenor]))
    found = explore(LOW_C, ALTO, collection=[alto])
    assert lifted not in texts(found)
    assert found.known == 1


def test_the_easiest_come_first_and_half_holes_and_rare_keys_late():
    found = explore(G, ALTO, changes=1)
    effort = {one.words(): one.effort for one in found.to_try}
    assert effort["lift left 2"] < effort["add side C"] < effort["half open left 1"]
    assert effort["add side C"] < effort["add high F♯"]
    for family in found.families:
        efforts = [one.effort for one in family.members]
        assert efforts == sorted(efforts)
    firsts = [family.members[0].effort for family in found.families]
    assert firsts == sorted(firsts)


def test_the_palm_may_press_while_the_index_finger_stays():
    """Common practice, no source; what two fingers would be needed for is left out."""
    remarks = {one.words(): one.remarks for one in explore(G, ALTO).to_try}
    assert remarks["add palm D"] == (PALM_BESIDE_FINGER,)
    assert remarks["lift left 1 and add palm D"] == ()
    assert "add front F" not in remarks
    assert "add high F♯" in remarks


def test_relatives_share_a_kind_of_change():
    for family in explore(G, ALTO, most=40).families:
        for one in family.members:
            assert family.words in [change.family() for change in one.changes]


def test_partly_pressed_keys_are_half():
    halves = [one.fingering for one in explore(G, ALTO, changes=1).to_try if "half" in one.words()]
    assert {fingering.amount("B") for fingering in halves} >= {Amount.HALF}


def test_changes_have_a_limit():
    with pytest.raises(RequestError, match="3 changes"):
        explore(G, ALTO, changes=3)


def test_three_ways_to_start():
    assert starting_from("G4", "alto", None).fingering == G
    assert starting_from("left 1 2 3 | right 0", "alto", None).fingering == G
    heron = starting_from("heron", None, COLLECTION)
    assert (heron.fingering, heron.saxophone, heron.called) == (
        COLLECTION["heron"].fingering,
        ALTO,
        "heron",
    )


STARTS = [
    ("G4", None, "for which saxophone"),
    ("heron", "tenor", "heron is for alto"),
    ("heroon", "alto", "Did you mean heron"),
    ("left 1 9", "alto", "no fingering"),
    ("low A | left 1", "alto", "no alto saxophone has it"),
    ("C7", "alto", "no ordinary note"),
    ("G4", "altoo", "Did you mean alto"),
]


@pytest.mark.parametrize(("text", "member", "words"), STARTS)
def test_what_nothing_can_start_from(text, member, words):
    with pytest.raises(ReedchordError) as caught:
        starting_from(text, member, COLLECTION)
    assert words in str(caught.value)


def test_the_list_says_what_it_is():
    found = explore(LOW_C, ALTO, start="C4", most=5)
    text = exploration_text(found)
    assert text.startswith("Changes of C4 on alto saxophone, the 5 easiest of ")
    assert "Lift a finger of the right hand\n1.  " in text
    assert "Nobody says that these speak" in text
    data = exploration_data(found)
    assert [one["fingering"] for one in data["to_try"]] == texts(found)


@pytest.mark.parametrize("paper", list(Paper))
def test_the_sheet_says_the_same_on_screen_and_on_paper(paper):
    found = explore(LOW_C, ALTO, start="C4", most=9)
    sheet = try_sheet(found)
    page = sheet_html(sheet).replace("\N{NO-BREAK SPACE}", " ")
    made = sheet_pdf(sheet, paper)
    assert made.not_shown == ""
    pages = PdfReader(io.BytesIO(made.pdf)).pages
    printed = "".join("".join(one.extract_text().split()) for one in pages)
    for one in found.to_try:
        assert one.words() in page
        assert "".join(one.words().split()) in printed
    for sentence in CAUTIONS:
        assert sentence in page
        assert "".join(sentence.split()) in printed
    assert page.count("<svg") == 1 + len(found.to_try)

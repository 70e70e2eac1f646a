"""The engraving harness: verovio draws what the score says, and what it cannot draw is told."""

import pytest

from truth.engraving import engraved
from truth.real_scores import NAMED
from truth.score_text import as_text, root_file
from truth_tests.small_scores import C_MAJOR, as_utf16, chord_score

SCORE = chord_score(*C_MAJOR)


def test_three_notes_of_a_chord_are_three_noteheads():
    drawn = engraved(SCORE)
    assert drawn.noteheads == ((3,),)
    assert drawn.notehead_count == 3
    assert drawn.warnings == ()
    assert drawn.pages[0].startswith("<svg")


def test_utf16_is_drawn_too():
    assert engraved(as_utf16(SCORE)).notehead_count == 3


def test_a_note_the_engraver_loses_is_missing_from_the_count():
    # <chord/> on the first note is valid, and verovio drops notes over it (6.4.1, measured).
    lone_chord = SCORE.replace(b"<note>", b"<note><chord/>", 1)
    assert engraved(lone_chord).notehead_count != 3


def test_a_wrong_step_is_a_warning():
    drawn = engraved(SCORE.replace(b"<step>E</step>", b"<step>H</step>"))
    assert drawn.warnings == ("MusicXML import: Unsupported step value 'H'",)


@pytest.mark.parametrize(
    "blank", [b"<score-partwise>", b"", b"<score-timewise version='4.0'/>", b"<a/>"]
)
def test_what_draws_as_a_blank_page_is_refused(blank):
    with pytest.raises(ValueError, match=r"not well-formed|no bar"):
        engraved(blank)


def test_systems_and_pages_of_a_real_score_add_up_to_its_pitches():
    data = NAMED["old faults"].read_bytes()
    drawn = engraved(data)
    assert len(drawn.pages) > 1
    assert all(len(page) > 1 for page in drawn.noteheads)
    assert drawn.notehead_count == as_text(root_file(data)).count("<pitch>")


def test_warnings_compare_between_two_runs():
    data = NAMED["old faults"].read_bytes()
    first = engraved(data).warnings
    assert any("'…'" in warning for warning in first)
    assert first == engraved(data).warnings

"""What changes for a player between two sonorities."""

from reedchord.reader import Reader, told_to
from reedchord.sonority_change import changes_for_player
from samples import sonority

OLD = sonority(
    "old", "E4", "B4+10", "G5", emphasised=2, fingering="left 1 2 3 | right 1 2", dynamics="p-f"
)
NEW = sonority(
    "new",
    "E4",
    "B4-8",
    "A5",
    emphasised=3,
    fingering="left 1 2 3 | right 1",
    limits=[{"articulation": "single tongue", "fastest": "16th at quarter = 60"}],
)


def test_each_change_is_one_sentence():
    assert changes_for_player(OLD, NEW) == (
        (
            "fingering: left hand 1, 2 and 3; right hand 1; from the former, one finger: right "
            "middle finger leaves E"
        ),
        "tones: G5 goes, A5 comes, B4 +10¢ becomes B4 −8¢, 18 cents lower",
        "emphasised in the record: A5 (was B4 +10¢)",
        "dynamics: not known (was p-f)",
        "limits: single tongue: up to 16ths at quarter = 60 (was none known)",
    )


def test_nothing_changes_between_a_sonority_and_itself():
    fingering, tones = changes_for_player(OLD, OLD)
    assert fingering.endswith("(as before)")
    assert tones == "tones: as before"


def test_between_saxophones_both_fingerings_are_named():
    other = sonority("other", "E4", saxophone="tenor", fingering="left 1 2 | right 1")
    fingering = changes_for_player(OLD, other)[0]
    assert fingering.startswith("fingering: left hand 1 and 2; right hand 1 (was left hand 1, 2")
    assert "saxophone: tenor (was alto)" in changes_for_player(OLD, other)


def test_british_note_values():
    with told_to(Reader(british=True)):
        assert "semiquavers" in changes_for_player(OLD, NEW)[-1]

"""How hard changes between fingerings are, against what is plain to any player."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reedchord.fingering import Amount, Fingering
from reedchord.fingering_change import Motion, change_difficulty
from reedchord.fingering_text import parse_fingering
from reedchord.keywork import KEYS

# The ordinary fingerings: common practice, no source.
NOTES = {
    "low B flat": "left 1 2 3, low B flat | right 1 2 3, low C",
    "low B": "left 1 2 3, low B | right 1 2 3, low C",
    "low C": "left 1 2 3 | right 1 2 3, low C",
    "low C sharp": "left 1 2 3, low C sharp | right 1 2 3, low C",
    "D": "left 1 2 3 | right 1 2 3",
    "E flat": "left 1 2 3 | right 1 2 3, E flat",
    "E": "left 1 2 3 | right 1 2",
    "F": "left 1 2 3 | right 1",
    "F sharp": "left 1 2 3 | right 2",
    "alternate F sharp": "left 1 2 3 | right 1, alternate F sharp",
    "G": "left 1 2 3",
    "G sharp": "left 1 2 3, G sharp",
    "A": "left 1 2",
    "B flat bis": "left 1, bis",
    "B flat side": "left 1 2 | right side B flat",
    "B": "left 1",
    "C": "left 2",
    "C side": "left 1 | right side C",
    "C sharp": "left 0",
    "D high": "octave | left 1 2 3 | right 1 2 3",
    "G high": "octave | left 1 2 3",
    "A high": "octave | left 1 2",
    "palm D": "octave | left palm D",
    "palm E flat": "octave | left palm D, palm E flat",
    "palm F": "octave | left palm D, palm E flat, palm F | right side E",
    "B high": "octave | left 1",
    # Not notes of the scale, but places of the little fingers as multiphonics have them.
    "G with low C sharp": "left 1 2 3, low C sharp",
    "G with low B": "left 1 2 3, low B",
    "G with low B flat": "left 1 2 3, low B flat",
}

# Changes from the easiest to the hardest, in five steps; inside a step no order is claimed.
# Common practice, no source.
STEPS = {
    "one strong finger, or the thumb": [
        ("B", "A"),
        ("A", "G"),
        ("G", "F"),
        ("F", "E"),
        ("E", "D"),
        ("C sharp", "B"),
        ("C sharp", "C"),
        ("C", "A"),
        ("E", "F sharp"),
        ("G", "F sharp"),
        ("D", "D high"),
        ("G", "G high"),
        ("A", "A high"),
    ],
    "a little finger, a key beside the hand, or two fingers together": [
        ("G", "G sharp"),
        ("D", "E flat"),
        ("D", "low C"),
        ("low C", "low B"),
        ("low C", "low C sharp"),
        ("B", "G"),
        ("G", "E"),
        ("F", "D"),
        ("D", "F sharp"),
        ("A", "F sharp"),
        ("C sharp", "A"),
        ("B", "B flat bis"),
        ("A", "B flat side"),
        ("B", "C side"),
        ("F", "alternate F sharp"),
        ("palm D", "palm E flat"),
    ],
    "a slide, a finger between places, fingers crossing, or three together": [
        ("E flat", "low C"),
        ("low B", "low B flat"),
        ("low C sharp", "low B"),
        ("G sharp", "G with low C sharp"),
        ("B", "C"),
        ("F", "F sharp"),
        ("G", "D"),
        ("C sharp", "G"),
        ("F sharp", "E flat"),
        ("B high", "palm D"),
        ("A high", "palm D"),
    ],
    "a jump, crossing with more fingers, or both hands at once": [
        ("G sharp", "G with low B"),
        ("low C sharp", "low B flat"),
        ("G sharp", "G with low B flat"),
        ("F sharp", "B flat side"),
        ("F", "B flat bis"),
        ("B", "E"),
        ("C", "D high"),
    ],
    "nearly everything moves": [
        ("C sharp", "D high"),
        ("C", "low C sharp"),
        ("B", "low C sharp"),
        ("C sharp", "low B"),
        ("C", "low B flat"),
        ("low B flat", "C sharp"),
        ("palm F", "D high"),
        ("G sharp", "low B"),
        ("C side", "low B flat"),
    ],
}
CHANGES = [change for step in STEPS.values() for change in step]


def _change(before, after):
    return change_difficulty(parse_fingering(before), parse_fingering(after))


def _score(change):
    before, after = change
    return _change(NOTES[before], NOTES[after]).score


def test_the_table_is_long_enough():
    assert len(set(CHANGES)) >= 40


@pytest.mark.parametrize(("easier", "harder"), list(pairwise(STEPS)), ids=lambda step: step[:24])
def test_every_change_of_a_step_is_easier_than_every_one_of_the_next(easier, harder):
    hardest = max(STEPS[easier], key=_score)
    easiest = min(STEPS[harder], key=_score)
    assert _score(hardest) < _score(easiest), (hardest, easiest)


@pytest.mark.parametrize("change", CHANGES, ids=" to ".join)
def test_there_and_back_is_as_hard(change):
    assert _score(change) == _score(change[::-1])


def test_words_of_a_slide():
    change = _change("left 1 2 3 | right 1 3, E flat", "left 1 2 3 | right 1 3, low C")
    assert change.words == "one finger: right little finger slides from E flat to low C"
    assert (change.grade, change.contrary) == ("easy", False)


def test_words_of_crossing_fingers():
    change = _change("left 1", "left 2")
    assert change.words == (
        "two fingers, some down while others go up: left index finger leaves B, "
        "left middle finger presses A"
    )


def test_the_same_fingering_is_no_change():
    change = _change(NOTES["D"], NOTES["D"])
    assert (change.score, change.grade, change.words) == (0, "no change", "no finger moves")


@pytest.mark.parametrize(
    ("before", "after", "motion"),
    [
        ("left 1 2", "left 1 half 2", Motion.OPENS_PARTLY),
        ("left 1 half 2", "left 1 2", Motion.COVERS_MORE),
        ("left 1, bis", "left 1", Motion.RELEASES),
        ("left 1", "left front F", Motion.ROLLS),
        ("left palm D", "left palm F", Motion.ROLLS),
        ("left 1", "left palm F", Motion.MOVES),
        ("right 1", "right side C", Motion.MOVES),
        ("octave", "low A", Motion.MOVES),
        ("left G sharp", "left low B", Motion.JUMPS),
        ("right E flat", "right low C", Motion.SLIDES),
    ],
)
def test_what_one_finger_does(before, after, motion):
    [move] = _change(before, after).moves
    assert move.motion is motion


def test_another_finger_takes_over_where_that_is_easier():
    """Alternate F sharp belongs to the ring finger; with D pressed the middle one has it."""
    change = _change("right 1 3", "right 1 3, alternate F sharp")
    assert change.words == "one finger: right middle finger presses alternate F sharp"


FINGERINGS = st.dictionaries(st.sampled_from(list(KEYS)), st.sampled_from(Amount)).map(
    lambda pressed: Fingering(tuple(pressed.items()))
)


@given(FINGERINGS)
def test_no_change_costs_nothing(fingering):
    assert change_difficulty(fingering, fingering).score == 0


@given(FINGERINGS, FINGERINGS)
def test_only_no_change_costs_nothing_and_the_way_back_costs_the_same(before, after):
    there, back = change_difficulty(before, after), change_difficulty(after, before)
    assert there.score == back.score
    assert (there.score == 0) == (before == after)
    assert len(there.moves) == len(back.moves)

"""The table of ordinary fingerings against what any handbook says.

The facts are from memory, and are common practice, no source: none was copied from a chart.
"""

from itertools import pairwise

import pytest

from reedchord.errors import RequestError
from reedchord.exploring.ordinary_fingerings import (
    ORDINARY_NOTES,
    ordinary_fingering,
    ordinary_notes,
)
from reedchord.fingering import finger_warnings, uncertain_keys
from reedchord.keywork import KEYS, Group
from reedchord.pitch import parse_pitch
from reedchord.saxophones import FAMILY, saxophone

ALTO = saxophone("alto")

# Two facts for every note: how many of the six main keys are down ("six down"), and one more,
# that a key is down ("low C") or up ("no octave"). From memory.
FACTS = {
    "A3": (6, "low A"),
    "Bb3": (6, "low B flat"),
    "B3": (6, "low B"),
    "C4": (6, "low C"),
    "C#4": (6, "low C sharp"),
    "D4": (6, "no octave"),
    "Eb4": (6, "E flat"),
    "E4": (5, "no D"),
    "F4": (4, "F"),
    "F#4": (4, "no F"),
    "G4": (3, "no F"),
    "G#4": (3, "G sharp"),
    "A4": (2, "no G"),
    "Bb4": (2, "side B flat"),
    "B4": (1, "B"),
    "C5": (1, "A"),
    "C#5": (0, "no octave"),
    "D5": (6, "octave"),
    "Eb5": (6, "E flat"),
    "E5": (5, "octave"),
    "F5": (4, "octave"),
    "F#5": (4, "no F"),
    "G5": (3, "octave"),
    "G#5": (3, "G sharp"),
    "A5": (2, "octave"),
    "Bb5": (2, "side B flat"),
    "B5": (1, "octave"),
    "C6": (1, "A"),
    "C#6": (0, "octave"),
    "D6": (0, "palm D"),
    "Eb6": (0, "palm E flat"),
    "E6": (0, "side E"),
    "F6": (0, "palm F"),
    "F#6": (0, "high F sharp"),
    "G6": (0, "high G"),
}


def test_every_semitone_of_the_written_range_is_there_once():
    assert [str(note.written) for note in ORDINARY_NOTES] == list(FACTS)
    gaps = {after.written.cents - one.written.cents for one, after in pairwise(ORDINARY_NOTES)}
    assert gaps == {100}


@pytest.mark.parametrize("name", FACTS)
def test_two_facts_of_each_note(name):
    main, key = FACTS[name]
    [note] = [note for note in ORDINARY_NOTES if str(note.written) == name]
    usual = note.fingerings[0]
    assert sum(KEYS[one].group is Group.MAIN for one in usual.keys) == main
    assert (key.removeprefix("no ") in usual.keys) != key.startswith("no ")


# Other fingerings that every player learns. From memory.
ALTERNATIVES = [
    ("Bb4", "left 1, bis | right 0"),
    ("Bb4", "left 1 | right 1"),
    ("C5", "left 1 | right 0, side C"),
    ("F#4", "left 1 2 3 | right 1, alternate F sharp"),
    ("F6", "octave | left 2, front F | right 0"),
]


@pytest.mark.parametrize(("name", "text"), ALTERNATIVES)
def test_other_common_fingerings(name, text):
    [note] = [note for note in ORDINARY_NOTES if str(note.written) == name]
    assert text in [str(fingering) for fingering in note.fingerings[1:]]


def test_the_octave_key_takes_d_to_c_sharp_up_an_octave():
    by_cents = {note.written.cents: note for note in ORDINARY_NOTES}
    low, high = parse_pitch("D4").cents, parse_pitch("C#5").cents
    for cents, note in by_cents.items():
        if low <= cents <= high:
            above = by_cents[cents + 1200].fingerings
            assert [("octave", *f.keys) for f in note.fingerings] == [f.keys for f in above]


def test_one_hand_can_hold_each_and_no_fingering_stands_for_two_notes():
    every = [fingering for note in ORDINARY_NOTES for fingering in note.fingerings]
    assert not [fingering for fingering in every if finger_warnings(fingering)]
    assert len(set(every)) == len(every)


@pytest.mark.parametrize("member", FAMILY.values(), ids=str)
def test_each_member_has_its_own_range_and_keys(member):
    notes = ordinary_notes(member)
    assert notes[0].written == member.lowest_written
    assert notes[-1].written.cents == member.highest_written.cents
    rare = {key for note in notes for key in uncertain_keys(note.fingerings[0], member.name)}
    assert rare <= {"low A", "high F sharp", "high G"}


def test_cents_do_not_count_and_what_lies_outside_is_told():
    assert ordinary_fingering(parse_pitch("G4+30"), ALTO) == ordinary_fingering(
        parse_pitch("G4"), ALTO
    )
    with pytest.raises(RequestError) as caught:
        ordinary_fingering(parse_pitch("A3"), ALTO)
    assert caught.value.hint == "Its written range goes from B♭3 to F♯6."
    assert ordinary_fingering(parse_pitch("A3"), saxophone("baritone")).keys[0] == "low A"

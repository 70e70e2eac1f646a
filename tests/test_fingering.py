"""Fingerings as players write them. The facts of the trade are common practice, no source."""

import pytest

from reedchord.errors import InputError
from reedchord.fingering import (
    Amount,
    Fingering,
    finger_warnings,
    uncertain_keys,
    unknown_keys,
)
from reedchord.fingering_text import parse_fingering
from reedchord.keywork import Finger

LOW_C_WITH_LIFTED_RIGHT_INDEX = "left 1 2 3 | right 2 3, low C"

PRINTED = [
    # canonical, short, short in ASCII, words
    (
        "octave | left 1 2 3, G sharp | right 1 half 2, low C",
        "octave | L 1 2 3 G♯ | R 1 ½2 - low C",
        "octave | L 1 2 3 G# | R 1 half 2 - low C",
        "octave key; left hand 1, 2, 3 and G sharp; right hand 1, half 2 and low C",
    ),
    (
        LOW_C_WITH_LIFTED_RIGHT_INDEX,
        "L 1 2 3 | R - 2 3 low C",
        "L 1 2 3 | R - 2 3 low C",
        "left hand 1, 2 and 3; right hand 2, 3 and low C",
    ),
    (
        "left 0, palm D | right 0",
        "L 0 palm D | R 0",
        "L 0 palm D | R 0",
        "left hand palm D; right hand none",
    ),
    (
        "left 0 | right 0",
        "L 0 | R 0",
        "L 0 | R 0",
        "left hand none; right hand none",
    ),
    (
        "half octave, low A | left 1 3, bis, half palm E flat | right slightly 3, side B flat",
        "½octave low A | L 1 - 3 bis ½palm E♭ | R - - slightly 3 side B♭",
        "half octave low A | L 1 - 3 bis half palm Eb | R - - slightly 3 side Bb",
        (
            "half octave key and low A key; left hand 1, 3, bis and half palm E flat; "
            "right hand slightly 3 and side B flat"
        ),
    ),
]


@pytest.mark.parametrize(("canonical", "short", "short_ascii", "words"), PRINTED)
def test_a_fingering_prints_in_four_ways_and_reads_back(canonical, short, short_ascii, words):
    fingering = parse_fingering(canonical)
    assert str(fingering) == canonical
    assert fingering.short() == short
    assert fingering.short(ascii_only=True) == short_ascii
    assert fingering.words() == words
    for text in (short, short_ascii, words):
        assert parse_fingering(text) == fingering


def test_low_c_with_the_right_first_finger_lifted():
    fingering = parse_fingering(LOW_C_WITH_LIFTED_RIGHT_INDEX)
    assert fingering.keys == ("B", "A", "G", "E", "D", "low C")
    assert fingering.amount("F") is None
    assert finger_warnings(fingering) == []


@pytest.mark.parametrize(
    "text",
    [
        "B, A, G, E, D, low C",
        "b a g e d low c",
        "LH 123, RH 23 low C",
        "L123 | R23 + low-C",
        "Left hand: 1 + 2 + 3; right hand: 2, 3 and low C key.",
        "LEFT 1 2 3 | RIGHT 0 2 3, LOW C",
        "l 1-2-3 | r - 2 3 low c",
        "left 1 2 3, low C | right 2 3",
        "low C, right 3 2, left G A B",
        "left 1 2 3\nright 2 3\nlow C",
    ],
)
def test_friendly_variants_of_one_fingering(text):
    assert str(parse_fingering(text)) == LOW_C_WITH_LIFTED_RIGHT_INDEX


def test_letters_are_main_keys_and_letters_with_accidentals_are_others():
    fingering = parse_fingering("E, Eb, G, G♯, low B, low B♭")
    assert fingering.keys == ("G", "G sharp", "low B", "low B flat", "E", "E flat")


def test_an_amount_belongs_to_the_next_key_only():
    fingering = parse_fingering("left 1 ½2 3, slightly G sharp, low B")
    assert fingering.amount("B") is Amount.FULL
    assert fingering.amount("A") is Amount.HALF
    assert fingering.amount("G♯") is Amount.SLIGHTLY
    assert fingering.amount("low B") is Amount.FULL


@pytest.mark.parametrize(
    ("text", "message", "hint"),
    [
        ("octve | left 1", "'octve' at column 1 is no key", "Did you mean octave?"),
        ("left 1 C", "'C' at column 8 is no key", "There are: low C sharp, side C, low C."),
        (
            "left 1, B flat",
            "'B flat' at column 9 is no key",
            "Did you mean low B flat or side B flat?",
        ),
        ("left 4", "'4' at column 6 is no main key", "The left hand has 1, 2, 3, and 0 for none."),
        ("1 2 3", "'1' at column 1 has no hand", "Write left or right before the numbers."),
        ("left 1 B", "'B' at column 8 names B again", "Name each key once."),
        (
            "left 1 half, 2",
            "'half' at column 8 belongs to no key",
            "Write it directly before its key: half 2, half G sharp.",
        ),
        (
            "left 1 | right 2 ½",
            "'½' at column 18 belongs to no key",
            "Write it directly before its key: ½ 2, ½ G sharp.",
        ),
        (" ", "' ' names no key", "Write the keys, or for no key at all: left 0 | right 0."),
        (
            "left | right",
            "'left | right' names no key",
            "Write the keys, or for no key at all: left 0 | right 0.",
        ),
    ],
)
def test_the_word_that_was_not_understood_is_named(text, message, hint):
    with pytest.raises(InputError) as caught:
        parse_fingering(text)
    assert caught.value.message.splitlines()[0].removesuffix(":") == message
    assert caught.value.hint == hint


def test_the_word_that_was_not_understood_is_pointed_at():
    with pytest.raises(InputError) as caught:
        parse_fingering("left 1 2\nright 1, low E")
    assert caught.value.message.splitlines()[1:] == [
        "  left 1 2 right 1, low E",
        "                    ^^^^^",
    ]


def test_pressed_keys_are_put_in_order_and_under_their_own_names():
    fingering = Fingering((("low c", Amount.FULL), ("Octave", Amount.HALF)))
    assert fingering.pressed == (("octave", Amount.HALF), ("low C", Amount.FULL))


def test_a_key_is_pressed_once():
    with pytest.raises(InputError, match="E flat is pressed twice"):
        Fingering((("E flat", Amount.FULL), ("Eb", Amount.HALF)))


def test_keys_that_a_saxophone_lacks():
    fingering = parse_fingering("low A, left 1, high F sharp, high G")
    assert unknown_keys(fingering, "alto saxophone") == ["low A", "high G"]
    assert uncertain_keys(fingering, "alto") == ["high F sharp"]
    assert unknown_keys(fingering, "baritone") == ["high G"]
    assert uncertain_keys(fingering, "baritone") == ["low A", "high F sharp"]
    assert uncertain_keys(fingering, "soprano") == ["high F sharp", "high G"]


@pytest.mark.parametrize(
    "text",
    [
        "octave, palm D, palm E flat, palm F",  # high F
        "octave, palm D, palm E flat, side E",  # high E
        "left 1, bis",  # B flat
        "left 123 low B flat | right 123 low C",  # low B flat
        "left 123 low C sharp | right 123 low C",  # low C sharp
        "left 123 | right 1, alternate F sharp",  # F sharp, the other way
        "octave | front F, left 2",  # high F from the front
        "left 1 | right 1",  # B flat, one and one
        "left 123 | right 13, alternate F sharp",  # the free middle finger takes it
        "left 123 low C sharp, low B | right 123 low C E flat",  # rollers
    ],
)
def test_ordinary_fingerings_need_no_warning(text):
    assert finger_warnings(parse_fingering(text)) == []


@pytest.mark.parametrize(
    ("text", "finger", "keys"),
    [
        ("low C sharp, low B flat", Finger.LEFT_LITTLE, ("low C sharp", "low B flat")),
        ("G sharp, low B flat", Finger.LEFT_LITTLE, ("G sharp", "low B flat")),
        ("front F, B", Finger.LEFT_INDEX, ("B", "front F")),
        ("right 1, side C", Finger.RIGHT_INDEX, ("F", "side C")),
        (
            "low B flat, low B, low C sharp, G sharp",
            Finger.LEFT_LITTLE,
            ("G sharp", "low C sharp", "low B", "low B flat"),
        ),
        ("right 2 3, alternate F sharp", Finger.RIGHT_RING, ("D", "alternate F sharp")),
        (
            "right 3, alternate F sharp, high F sharp",
            Finger.RIGHT_RING,
            ("D", "high F sharp"),
        ),
    ],
)
def test_one_finger_on_keys_that_lie_apart(text, finger, keys):
    [warning] = finger_warnings(parse_fingering(text))
    assert (warning.finger, warning.keys) == (finger, keys)


def test_a_warning_is_a_sentence_for_people():
    fingering = parse_fingering("left 123 low C sharp low B flat | right 1 side C")
    little, index = (warning.message for warning in finger_warnings(fingering))
    assert little == (
        "left little finger on low C sharp and low B flat: one finger does not commonly hold "
        "them together; hard or unusual, ask the player"
    )
    assert index.startswith("right index finger on F and side C: ")

"""The keys under the fingers. Every fact here is common practice, no source."""

import pytest

from reedchord.errors import InputError
from reedchord.keywork import (
    CAN_HOLD_TOGETHER,
    KEYS,
    MAIN_KEYS,
    Availability,
    Finger,
    Group,
    Hand,
    exists_on,
    key,
)
from reedchord.saxophones import FAMILY


def test_the_six_main_keys_are_spoken_of_by_number_or_by_the_note_they_close_down_to():
    spoken = {place: main.name for place, main in MAIN_KEYS.items()}
    assert spoken == {
        (Hand.LEFT, 1): "B",
        (Hand.LEFT, 2): "A",
        (Hand.LEFT, 3): "G",
        (Hand.RIGHT, 1): "F",
        (Hand.RIGHT, 2): "E",
        (Hand.RIGHT, 3): "D",
    }


@pytest.mark.parametrize(
    ("finger", "names"),
    [
        (Finger.LEFT_THUMB, {"octave", "low A"}),
        (Finger.LEFT_INDEX, {"B", "bis", "front F", "palm D", "palm E flat", "palm F"}),
        (Finger.LEFT_MIDDLE, {"A"}),
        (Finger.LEFT_RING, {"G"}),
        (Finger.LEFT_LITTLE, {"G sharp", "low C sharp", "low B", "low B flat"}),
        (Finger.RIGHT_INDEX, {"F", "side B flat", "side C", "side E"}),
        (Finger.RIGHT_MIDDLE, {"E"}),
        (Finger.RIGHT_RING, {"D", "alternate F sharp", "high F sharp", "high G"}),
        (Finger.RIGHT_LITTLE, {"E flat", "low C"}),
        (Finger.RIGHT_THUMB, set()),
    ],
)
def test_each_finger_works_its_keys(finger, names):
    assert {name for name, known in KEYS.items() if known.finger is finger} == names


def test_keys_stand_in_playing_order_thumb_then_left_then_right_hand():
    fingers = [list(Finger).index(known.finger) for known in KEYS.values()]
    assert fingers == sorted(fingers)


def test_keys_that_lower_the_sound_stand_open_and_keys_that_raise_it_stand_closed():
    closing = {name for name, known in KEYS.items() if known.stands_open}
    assert closing == {*"BAGFED", "bis", "low C", "low B", "low B flat", "low A"}


def test_only_main_keys_have_a_number():
    assert all((known.number is None) != (known.group is Group.MAIN) for known in KEYS.values())


def test_pairs_for_one_finger_name_two_keys_of_one_finger():
    for pair in CAN_HOLD_TOGETHER:
        assert len({KEYS[name].finger for name in pair}) == 1
        assert len(pair) == 2


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("low C♯", "low C sharp"),
        ("Low-C#", "low C sharp"),
        ("LOW DB", "low C sharp"),
        ("Eb", "E flat"),
        ("E♭", "E flat"),
        ("e-flat key", "E flat"),
        ("D sharp", "E flat"),
        ("Ab", "G sharp"),
        ("low Bb", "low B flat"),
        ("side_a_sharp", "side B flat"),
        ("b", "B"),
        ("Octave key", "octave"),
        ("alternate F#", "alternate F sharp"),
    ],
)
def test_names_are_forgiving(text, name):
    assert key(text).name == name


@pytest.mark.parametrize("ascii_only", [True, False])
def test_the_printed_name_of_every_key_reads_back(ascii_only):
    for known in KEYS.values():
        printed = known.short(ascii_only=ascii_only)
        assert key(printed) is known
        assert printed.isascii() or not ascii_only


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("C", "There are: low C sharp, side C, low C."),
        ("Bb", "Did you mean low B flat or side B flat?"),
        ("F sharp", "Did you mean high F sharp or alternate F sharp?"),
        ("octve", "Did you mean octave?"),
        ("plam D", "Did you mean palm D or palm F?"),
    ],
)
def test_an_unknown_key_gets_the_nearest_ones(text, hint):
    with pytest.raises(InputError, match="is no key") as caught:
        key(text)
    assert caught.value.code == "key.unknown"
    assert caught.value.hint == hint


@pytest.mark.parametrize("member", FAMILY)
def test_low_a_is_a_baritone_key_and_high_g_a_soprano_key(member):
    assert bool(exists_on(KEYS["low A"], member)) == (member == "baritone")
    assert bool(exists_on(KEYS["high G"], member)) == (member == "soprano")


def test_keys_that_some_instruments_lack():
    lacking = {name for name in KEYS if not KEYS[name].on_every}
    assert lacking == {"low A", "high F sharp", "high G"}
    assert exists_on(KEYS["low A"], "baritone") is Availability.SOME
    assert exists_on(KEYS["high F sharp"], "tenor") is Availability.SOME
    assert exists_on(KEYS["G sharp"], "tenor") is Availability.EVERY


def test_fingers_know_their_hand_and_how_they_are_spoken():
    assert Finger.LEFT_LITTLE.hand is Hand.LEFT
    assert Finger.RIGHT_INDEX.hand is Hand.RIGHT
    assert Finger.LEFT_LITTLE.words() == "left little finger"
    assert Finger.LEFT_THUMB.words() == "left thumb"

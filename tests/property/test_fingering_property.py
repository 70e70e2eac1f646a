"""What holds for every fingering, possible or not."""

import re
from itertools import combinations, product

from hypothesis import given
from hypothesis import strategies as st

from reedchord.errors import InputError
from reedchord.fingering import Amount, Fingering, finger_warnings
from reedchord.fingering_text import parse_fingering
from reedchord.keywork import CAN_HOLD_TOGETHER, KEYS

PRESSED = st.dictionaries(st.sampled_from(list(KEYS)), st.sampled_from(Amount)).map(
    lambda pressed: tuple(pressed.items())
)
FINGERINGS = PRESSED.map(Fingering)
# Pieces of the language in a random order: far more often almost right than plain text is.
PIECES = st.lists(
    st.sampled_from(
        [*KEYS, *"0123456789", "left", "R", "half", "½", "slightly", "|", ",", "-", "and", "sharp"]
    ),
    max_size=8,
).map(" ".join)


@given(FINGERINGS)
def test_every_printed_form_reads_back(fingering):
    for text in (
        str(fingering),
        fingering.short(),
        fingering.short(ascii_only=True),
        fingering.words(),
    ):
        assert parse_fingering(text) == fingering
        assert parse_fingering(text.upper()) == fingering
        assert parse_fingering(text.lower()) == fingering


@given(FINGERINGS, st.sampled_from([", ", " + ", " and ", "; ", " ", "\n"]))
def test_keys_can_be_listed_by_name_alone(fingering, between):
    names = [f"{amount} {name}" for name, amount in fingering.pressed] or ["none"]
    assert parse_fingering(between.join(names)) == fingering


@given(FINGERINGS)
def test_the_short_text_suits_every_reader_of_scores(fingering):
    for ascii_only in (True, False):
        text = fingering.short(ascii_only=ascii_only)
        assert re.search("[0-9]", text)
        assert not re.fullmatch(r"[+-]?[0-9.]+", text)
        assert text == " ".join(text.split())
        assert text.isascii() or not ascii_only


@given(PRESSED.flatmap(lambda pressed: st.tuples(st.just(pressed), st.permutations(pressed))))
def test_the_order_of_keys_does_not_matter(both):
    pressed, shuffled = both
    assert Fingering(pressed) == Fingering(tuple(shuffled))


@given(st.text() | PIECES)
def test_any_text_is_a_fingering_or_a_mistake_with_a_hint(text):
    read = fingering_or_mistake(text)
    if isinstance(read, Fingering):
        assert parse_fingering(str(read)) == read
    else:
        assert read.hint


def fingering_or_mistake(text):
    try:
        return parse_fingering(text)
    except InputError as mistake:
        return mistake


@given(FINGERINGS)
def test_no_warning_exactly_when_the_fingers_can_share_the_keys(fingering):
    assert (not finger_warnings(fingering)) == can_be_shared_out(fingering.keys)


def can_be_shared_out(names):
    """Try every way to give the keys to the fingers that work them."""
    choices = [(KEYS[name].finger, *KEYS[name].other_fingers) for name in names]
    return any(
        all(
            first[1] is not second[1] or {first[0], second[0]} in CAN_HOLD_TOGETHER
            for first, second in combinations(zip(names, fingers, strict=True), 2)
        )
        for fingers in product(*choices)
    )

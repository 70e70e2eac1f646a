"""Messages for people: where, what is wrong, what would be right."""

import pytest

from reedchord.errors import (
    InputError,
    ReedchordError,
    RequestError,
    SeveralErrors,
    Where,
    did_you_mean,
    near_names,
    raise_all,
)


def test_a_place_prints_every_field_that_is_known():
    assert str(Where("duo.musicxml", part="P1", bar="12 (index 12)", beat="2.5")) == (
        "duo.musicxml, part P1, bar 12 (index 12), beat 2.5"
    )
    assert str(Where("mine.yaml", line=4, column=7, record="low c", field="tones")) == (
        "mine.yaml, line 4, column 7, record low c, field tones"
    )
    assert str(Where()) == ""


def test_an_inner_place_is_completed_from_the_outer_one():
    inner = Where(bar="3", beat="2")
    assert inner.within(Where("a.musicxml", part="P1", bar="9")) == Where(
        "a.musicxml", part="P1", bar="3", beat="2"
    )


def test_places_of_two_files_do_not_mix():
    inner = Where("records.yaml", record="M1")
    assert inner.within(Where("score.musicxml", line=40, part="P1")) == inner


def test_an_error_says_where_what_and_the_remedy():
    error = InputError("pitch.text", "'H4' is no pitch", hint="Write B4.", where=Where("a.yaml", 3))
    assert str(error) == "a.yaml, line 3: 'H4' is no pitch\n  Write B4."
    assert str(InputError("x", "no place, no hint")) == "no place, no hint"


def test_at_completes_the_place_and_keeps_the_kind():
    error = RequestError("place.rest", "the bar is full", where=Where(bar="4"))
    assert error.at(Where("a.musicxml", part="P2")) is error
    assert str(error) == "a.musicxml, part P2, bar 4: the bar is full"


def test_raise_all_raises_nothing_one_or_all():
    raise_all([])
    first, second = InputError("a", "first"), RequestError("b", "second")
    with pytest.raises(InputError) as single:
        raise_all([first])
    assert single.value is first
    with pytest.raises(SeveralErrors) as several:
        raise_all([first, second])
    assert several.value.errors == (first, second)
    assert several.value.code == "several"
    assert str(several.value) == "first\nsecond"
    assert several.value.message == "2 mistakes found"


def test_several_errors_within_several_are_counted_one_by_one():
    inner = SeveralErrors([InputError("a", "first"), InputError("b", "second")])
    outer = SeveralErrors([inner, InputError("c", "third")])
    assert outer.message == "3 mistakes found"
    assert str(outer) == "first\nsecond\nthird"


def test_the_place_reaches_each_of_several_errors():
    errors = SeveralErrors([InputError("a", "first", where=Where(line=2)), InputError("b", "next")])
    assert str(errors.at(Where("mine.yaml"))) == "mine.yaml, line 2: first\nmine.yaml: next"


def test_every_error_is_of_one_family():
    for kind in (InputError, RequestError):
        assert issubclass(kind, ReedchordError)
    assert issubclass(SeveralErrors, ReedchordError)


FINGERS = ["palm D", "palm E flat", "palm F", "side C", "side B flat", "low C sharp"]


def test_near_names_ignore_case_and_begin_with_those_that_contain_the_word():
    assert near_names("PALM d", FINGERS)[0] == "palm D"
    assert near_names("side", FINGERS) == ["side C", "side B flat"]
    assert near_names("E flat", FINGERS)[0] == "palm E flat"
    assert near_names("palm", FINGERS, count=2) == ["palm D", "palm F"]
    assert near_names("octave", FINGERS) == []
    assert near_names("  ", FINGERS) == []


@pytest.mark.parametrize(
    ("wanted", "sentence"),
    [
        ("low C shrap", "Did you mean low C sharp?"),
        ("palm E", "Did you mean palm E flat, palm F or palm D?"),
        ("octave", f"There are: {', '.join(FINGERS)}."),
    ],
)
def test_the_sentence_offers_near_names_or_all(wanted, sentence):
    assert did_you_mean(wanted, FINGERS) == sentence


def test_two_near_names_are_joined_by_or():
    assert did_you_mean("tenr", ["tenor", "tenet"]) == "Did you mean tenor or tenet?"


def test_the_sentence_knows_empty_and_long_lists():
    assert did_you_mean("x", []) == "There are none."
    many = [f"{number:02}" for number in range(20)]
    assert did_you_mean("palm", many).endswith("10, 11, …")

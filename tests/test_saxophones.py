"""The family: what a written note sounds like on each member, and how a member is found."""

import pytest

from reedchord.errors import InputError
from reedchord.pitch import parse_pitch
from reedchord.saxophones import FAMILY, saxophone

EVERY = list(FAMILY.values())


def test_the_family_stands_from_high_to_low():
    assert list(FAMILY) == [
        "sopranino",
        "soprano",
        "alto",
        "C melody",
        "tenor",
        "baritone",
        "bass",
        "contrabass",
    ]
    assert [member.semitones for member in EVERY] == sorted(
        (member.semitones for member in EVERY), reverse=True
    )


# common practice, no source: what written C5 sounds like names the key of the instrument
@pytest.mark.parametrize(
    ("name", "concert"),
    [
        ("sopranino", "Eb5"),
        ("soprano", "Bb4"),
        ("alto", "Eb4"),
        ("C melody", "C4"),
        ("tenor", "Bb3"),
        ("baritone", "Eb3"),
        ("bass", "Bb2"),
        ("contrabass", "Eb2"),
    ],
)
def test_written_c_sounds_the_key_of_the_instrument(name, concert):
    member = FAMILY[name]
    assert member.concert(parse_pitch("C5")) == parse_pitch(concert)
    assert member.written(parse_pitch(concert)) == parse_pitch("C5")
    assert member.key == concert[:-1].replace("b", " flat")


# common practice, no source: the lowest concert notes of the family, baritone with low A
@pytest.mark.parametrize(
    ("name", "concert"),
    [("soprano", "Ab3"), ("alto", "Db3"), ("tenor", "Ab2"), ("baritone", "C2"), ("bass", "Ab1")],
)
def test_the_lowest_note_sounds_where_it_should(name, concert):
    member = FAMILY[name]
    assert member.concert(member.lowest_written) == parse_pitch(concert)


def test_cents_and_spelling_go_along():
    alto = FAMILY["alto"]
    assert str(alto.concert(parse_pitch("F#5-12"))) == "A4-12"
    assert str(alto.concert(parse_pitch("Gb5-12"))) == "Bbb4-12"
    assert str(alto.written(parse_pitch("Bb3+31"))) == "G4+31"


@pytest.mark.parametrize("member", EVERY, ids=str)
def test_interval_and_musicxml_transpose_agree(member):
    diatonic, chromatic, octaves = member.transpose
    assert chromatic + 12 * octaves == member.semitones
    assert diatonic + 7 * octaves == member.steps


def test_only_the_baritone_goes_down_to_low_a():
    assert [member.name for member in EVERY if member.has_low_a] == ["baritone"]
    assert {str(member.lowest_written) for member in EVERY if not member.has_low_a} == {"Bb3"}
    assert str(FAMILY["baritone"].lowest_written) == "A3"


@pytest.mark.parametrize("member", EVERY, ids=str)
def test_the_range_is_wider_than_two_octaves_and_a_half(member):
    assert member.highest_written.cents - member.lowest_written.cents >= 3100


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("alto", "alto"),
        ("Alto Saxophone", "alto"),
        ("ALTO SAX", "alto"),
        ("c-melody saxophone", "C melody"),
        ("C_Melody", "C melody"),
        ("  baritone  ", "baritone"),
    ],
)
def test_a_member_is_found_by_its_name(text, name):
    assert saxophone(text) is FAMILY[name]
    assert saxophone(str(FAMILY[name])) is FAMILY[name]


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("teno", "Did you mean tenor?"),
        ("contra bass", "Did you mean contrabass?"),
        ("flute", None),
        ("saxophone", None),
        ("", None),
    ],
)
def test_an_unknown_name_is_answered_with_near_ones(text, hint):
    with pytest.raises(InputError, match="is no saxophone") as error:
        saxophone(text)
    assert error.value.code == "saxophone.unknown"
    assert error.value.hint == (hint or f"There are: {', '.join(FAMILY)}.")

"""Which saxophone a part is for. Names as they stand on parts: common practice, no source."""

import pytest

from reedchord.errors import RequestError
from reedchord.musicxml.bar_state import Transpose
from reedchord.musicxml.document import Instrument, Part, read_score
from reedchord.placement.saxophone_of_part import (
    is_saxophone_of_unknown_size,
    part_pitch,
    recognised,
)
from reedchord.saxophones import FAMILY
from samples import RESTS

NAMES = {
    "sopranino": ["Sopranino Saxophone", "Sopraninosaxophon", "Sno. Sax.", "Saxophone sopranino"],
    "soprano": [
        "Soprano Saxophone",
        "Soprano Sax",
        "Sop. Sax.",
        "S. Sax.",
        "S.Sx. (Soprano Saxophone)",
        "Sopransaxophon",
        "Sopran-Saxophon",
        "Saxophone soprano",
        "Saxofón soprano",
        "Sassofono soprano",
        "Sax soprano",
        "B♭ Soprano Saxophone",
        "Soprano Saxophone in Bb",
        "SOPRANO SAXOPHONE",
        "Sopraansaxofoon",
    ],
    "alto": [
        "Alto Saxophone",
        "Alto Saxophone 1",
        "E♭ Alto Saxophone",
        "Alto Saxophone in Eb",
        "Alto Sax",
        "Alto Sax.",
        "Alto Saxes",
        "A. Sax.",
        "A.Sax.",
        "A Sax 2",
        "Altsaxophon",
        "Alt-Saxophon in Es",
        "Altsaxofon",
        "Altsax",
        "Altosaxophone",
        "Saxophone alto",
        "Saxophone alto en mib",
        "Saxofón alto",
        "Saxofon alt",
        "Saxofone alto",
        "Sassofono contralto",
        "Sax contralto",
        "Sassofono alto",
        "Sax alto",
        "1st Alto Sax",
        "Solo Alto Saxophone",
        "Alttosaksofoni",
        "Melody (Alto Sax)",
    ],
    "tenor": [
        "Tenor Saxophone",
        "Tenor Sax",
        "Ten. Sax.",
        "T. Sax.",
        "T.Sax.",
        "T Sax 1",
        "Tenorsaxophon",
        "Tenorsaxofon",
        "Saxophone ténor",
        "Saxofón tenor",
        "Sassofono tenore",
        "Tenor Saxophone 2",
        "B♭ Tenor Saxophone",
        "Tenorisaksofoni",
    ],
    "baritone": [
        "Baritone Saxophone",
        "Baritone Sax",
        "Bari. Sax.",
        "Bari Sax",
        "Bar. Sax.",
        "Baritonsaxophon",
        "Baryton-Saxophon",
        "Saxophone baryton",
        "Saxofón barítono",
        "Sassofono baritono",
        "Barytonsaxofon",
    ],
    "bass": [
        "Bass Saxophone",
        "Bass Sax",
        "Basssaxophon",
        "Bass-Saxophon",
        "Saxophone basse",
        "Bassax",
        "Saxofón bajo",
        "Sassofono basso",
    ],
    "contrabass": [
        "Contrabass Saxophone",
        "Cb. Sax.",
        "Kontrabasssaxophon",
        "Saxophone contrebasse",
        "Contra Bass Sax",
    ],
    "C melody": ["C Melody Saxophone", "C-Melody Sax", "C Mel. Sax."],
}

UNKNOWN_SIZE = [
    "Saxophone",
    "Sax",
    "Saxophon",
    "Saxofón",
    "Saxophone 1",
    "Saxes",
    "Sassofono",
    "B. Sax.",
    "Alto & Tenor Saxophone",
    "Soprano Sax / Alto Sax",
    "Subcontrabass Saxophone",
    "Sopranillo Saxophone",
]

NO_SAXOPHONE = [
    "Saxhorn",
    "Alto Saxhorn",
    "Saxtromba",
    "Saxon Horn",
    "Bass Saxons",
    "Anglo-Saxon Harp",
    "Alto",
    "Tenor",
    "Alto Clarinet",
    "Baritone",
    "Bass",
    "Contrabass",
    "",
]


def named(name, sound=None):
    return Part("P1", name, "", (Instrument("I1", "", sound),) if sound else (), ())


@pytest.mark.parametrize(
    ("member", "name"), [(member, name) for member, names in NAMES.items() for name in names]
)
def test_a_part_is_known_by_its_name(member, name):
    found = recognised(named(name))
    assert found is not None
    assert found.name == member


@pytest.mark.parametrize("name", UNKNOWN_SIZE)
def test_a_saxophone_of_unknown_size_is_not_guessed(name):
    assert recognised(named(name)) is None
    assert is_saxophone_of_unknown_size(named(name))


@pytest.mark.parametrize("name", NO_SAXOPHONE)
def test_a_name_that_only_looks_like_it(name):
    assert recognised(named(name)) is None
    assert not is_saxophone_of_unknown_size(named(name))


@pytest.mark.parametrize("member", FAMILY)
def test_the_instrument_s_sound_goes_before_its_name(member):
    # Sounds: MusicXML 4.0, sounds.xml.
    part = named("Alto Saxophone", FAMILY[member].sound)
    assert recognised(part) == FAMILY[member]


@pytest.mark.parametrize("member", FAMILY)
def test_our_own_abbreviation_is_known(member):
    assert recognised(named(FAMILY[member].abbreviation)) == FAMILY[member]


def test_the_instrument_s_name_and_the_abbreviation_serve_too():
    by_instrument = Part("P1", "Reed 1", "", (Instrument("I", "Tenor Sax", None),), ())
    by_abbreviation = Part("P1", "Reed 1", "Bar. Sax.", (), ())
    assert recognised(by_instrument) == FAMILY["tenor"]
    assert recognised(by_abbreviation) == FAMILY["baritone"]


AS_ALTO = Transpose(-9, -5)


def pitch(name="Alto Saxophone", transpose=AS_ALTO, said=None):
    return part_pitch(read_score(RESTS), named(name), transpose, said)


def test_written_pitches_where_the_part_transposes():
    found = pitch()
    assert (found.saxophone.name, found.is_concert, found.warnings) == ("alto", False, ())


@pytest.mark.parametrize("transpose", [None, Transpose(0, 0)])
def test_concert_pitches_where_it_does_not(transpose):
    found = pitch(transpose=transpose)
    assert found.is_concert
    assert "as they sound" in found.warnings[0]


def test_a_transposition_without_diatonic_steps_is_enough():
    assert not pitch(transpose=Transpose(-9, None)).is_concert


def test_zero_chromatic_steps_without_diatonic_are_no_transposition():
    assert pitch(transpose=Transpose(0, None)).is_concert


def test_a_transposition_of_another_saxophone_is_a_warning():
    (sentence,) = pitch(transpose=Transpose(-14, -8)).warnings
    assert "transposes by -14 semitones instead of -9" in sentence
    assert "as a tenor saxophone does" in sentence


def test_what_the_user_says_goes_first():
    assert pitch("Flute", said=FAMILY["alto"]).saxophone == FAMILY["alto"]


def test_a_part_that_tells_nothing_is_refused():
    with pytest.raises(RequestError, match="no saxophone"):
        pitch("Flute")

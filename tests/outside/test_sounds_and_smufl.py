"""Names against those who own them: MusicXML's schema, music21's instruments, Unicode.

No package we know ships MusicXML's list of sounds (sounds.xml). music21 has the ids of four
saxophones and of the saxophone as such; the four others are by memory of that list.
SMuFL glyph names are not written by us; its plain accidentals are read as Unicode characters.
"""

import re
import unicodedata

import pytest
from lxml import etree
from music21 import instrument, pitch

from reedchord.dynamics import SCALE
from reedchord.pitch import parse_pitch
from reedchord.rhythm import QUARTERS_BY_TYPE
from reedchord.saxophones import FAMILY
from truth.musicxml_schema import schema_file

XSD = {"xs": "http://www.w3.org/2001/XMLSchema"}


def _schema_names(path):
    return [str(name) for name in etree.parse(str(schema_file())).xpath(path, namespaces=XSD)]


def _enumeration(simple_type):
    return _schema_names(f"//xs:simpleType[@name='{simple_type}']//xs:enumeration/@value")


@pytest.mark.parametrize(
    ("name", "theirs"),
    [
        ("soprano", instrument.SopranoSaxophone),
        ("alto", instrument.AltoSaxophone),
        ("tenor", instrument.TenorSaxophone),
        ("baritone", instrument.BaritoneSaxophone),
    ],
)
def test_sound_ids_are_those_of_music21(name, theirs):
    assert FAMILY[name].sound == theirs().instrumentSound
    assert str(FAMILY[name]).casefold() == theirs().instrumentName.casefold()


# from memory of MusicXML 4.0, sounds.xml
@pytest.mark.parametrize(
    ("name", "last"),
    [
        ("sopranino", "sopranino"),
        ("C melody", "melody"),
        ("bass", "bass"),
        ("contrabass", "contrabass"),
    ],
)
def test_the_other_sound_ids_stand_under_the_same_saxophone(name, last):
    assert FAMILY[name].sound == f"{instrument.Saxophone().instrumentSound}.{last}"


def test_no_two_members_share_a_sound_an_abbreviation_or_an_interval():
    for field in ("sound", "abbreviation", "semitones", "transpose"):
        assert len({getattr(member, field) for member in FAMILY.values()}) == len(FAMILY)


def test_note_types_are_those_of_the_schema_longest_first():
    assert list(QUARTERS_BY_TYPE) == _enumeration("note-type-value")[::-1]


def test_dynamic_marks_are_elements_of_the_schema():
    elements = _schema_names("//xs:complexType[@name='dynamics']/xs:choice/xs:element/@name")
    assert set(SCALE) <= set(elements)
    # Longer marks and accents (sf, fp, n, …) are left to the player; of plain p and f all up
    # to four are there.
    plain = {name for name in elements if re.fullmatch(r"p{1,4}|f{1,4}|m[pf]", name)}
    assert plain == set(SCALE)


# MusicXML 4.0, simple type accidental-value; how much each alters: music21's accidentals,
# which know some of them by another name.
IN_MUSIC21 = {"sharp-sharp": "double-sharp", "flat-flat": "double-flat"}


@pytest.mark.parametrize(
    "name",
    [
        "natural",
        "sharp",
        "flat",
        "double-sharp",
        "sharp-sharp",
        "flat-flat",
        "quarter-sharp",
        "quarter-flat",
        "three-quarters-sharp",
        "three-quarters-flat",
    ],
)
def test_accidental_names_of_the_schema_are_read(name):
    assert name in _enumeration("accidental-value")
    theirs = pitch.Accidental(IN_MUSIC21.get(name, name))
    assert parse_pitch(f"G{name}4").alteration_cents == 100 * theirs.alter


# The Unicode Character Database, as Python's unicodedata ships it.
@pytest.mark.parametrize(
    ("name", "cents"),
    [
        ("MUSIC SHARP SIGN", 100),
        ("MUSIC FLAT SIGN", -100),
        ("MUSIC NATURAL SIGN", 0),
        ("MUSICAL SYMBOL DOUBLE SHARP", 200),
        ("MUSICAL SYMBOL DOUBLE FLAT", -200),
        ("MUSICAL SYMBOL QUARTER TONE SHARP", 50),
        ("MUSICAL SYMBOL QUARTER TONE FLAT", -50),
    ],
)
def test_unicode_accidentals_are_read_by_their_names(name, cents):
    sign = unicodedata.lookup(name)
    assert parse_pitch(f"G{sign}4").alteration_cents == cents


def test_printed_signs_are_the_unicode_ones():
    printed = "".join(parse_pitch(text).printed() for text in ("G#4-2", "Gb4", "G##4", "Gbb4"))
    beyond_ascii = [unicodedata.name(sign) for sign in printed if not sign.isascii()]
    assert beyond_ascii == [
        "MUSIC SHARP SIGN",
        "MINUS SIGN",
        "CENT SIGN",
        "MUSIC FLAT SIGN",
        "MUSICAL SYMBOL DOUBLE SHARP",
        "MUSICAL SYMBOL DOUBLE FLAT",
    ]

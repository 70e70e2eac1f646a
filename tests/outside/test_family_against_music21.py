"""The family against music21: its saxophone classes, its intervals and its MusicXML reader."""

import itertools
from fractions import Fraction

import pytest
from music21 import instrument, pitch

from reedchord.pitch import STEPS, Pitch
from reedchord.saxophones import FAMILY
from truth.music21_reading import sounding_pitches
from truth.musicxml_schema import schema_errors
from truth_tests.small_scores import chord_score

# music21 has no class for the sopranino, the C melody, the bass and the contrabass.
CLASSES = {
    "soprano": instrument.SopranoSaxophone,
    "alto": instrument.AltoSaxophone,
    "tenor": instrument.TenorSaxophone,
    "baritone": instrument.BaritoneSaxophone,
}
QUARTER_TONES = [Fraction(half, 2) for half in range(-4, 5)]
SPELLINGS = [
    Pitch(step, octave, 100 * alter)
    for octave, step, alter in itertools.product(range(3, 7), STEPS, QUARTER_TONES)
]


def _in_music21(ours):
    theirs = pitch.Pitch(ours.step, octave=ours.octave)
    theirs.accidental = pitch.Accidental(float(ours.alteration_cents / 100))
    return theirs


@pytest.mark.parametrize("name", CLASSES)
def test_the_intervals_are_those_of_the_classes(name):
    interval = CLASSES[name]().transposition
    # music21 counts generic intervals from 1: a step down is -2.
    steps = interval.generic.staffDistance
    assert (FAMILY[name].semitones, FAMILY[name].steps) == (interval.semitones, steps)


@pytest.mark.parametrize("name", CLASSES)
def test_every_spelling_sounds_where_music21_hears_it(name):
    interval = CLASSES[name]().transposition
    for written in SPELLINGS:
        heard = interval.transposePitch(_in_music21(written), maxAccidental=None)
        concert = FAMILY[name].concert(written)
        assert Fraction(heard.ps) * 100 == concert.cents, str(written)


@pytest.mark.parametrize("name", CLASSES)
def test_ordinary_spellings_are_spelled_as_music21_spells_them(name):
    interval = CLASSES[name]().transposition
    for written in SPELLINGS:
        if written.alteration_cents not in (-100, 0, 100):
            continue
        heard = interval.transposePitch(_in_music21(written), maxAccidental=None)
        concert = FAMILY[name].concert(written)
        theirs = (heard.step, heard.octave, Fraction(heard.alter) * 100)
        assert theirs == (concert.step, concert.octave, concert.alteration_cents), str(written)


@pytest.mark.parametrize("member", FAMILY.values(), ids=str)
def test_the_transpose_element_of_every_member_is_read_as_meant(member):
    diatonic, chromatic, octaves = member.transpose
    element = (
        f"<transpose><diatonic>{diatonic}</diatonic><chromatic>{chromatic}</chromatic>"
        f"<octave-change>{octaves}</octave-change></transpose>"
    )
    written = [Pitch("B", 3, Fraction(-100)), Pitch("F", 4, Fraction(50)), Pitch("C", 6)]
    tones = [(tone.step, str(float(tone.alteration_cents / 100)), tone.octave) for tone in written]
    score = chord_score(*tones, transpose=element)
    assert schema_errors(score) == []
    (chord,) = sounding_pitches(score, 0, 0)
    assert [100 * sounding for sounding in chord.pitches] == [
        member.concert(tone).cents for tone in written
    ]

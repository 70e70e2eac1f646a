"""A sonority as a music21 chord and back: music21's own arithmetic gives the cents back."""

from fractions import Fraction

import pytest

from reedchord.collection_reading import read_collection
from reedchord.demo_paths import COLLECTION, shipped_path
from reedchord.errors import InputError, ReedchordError
from reedchord.music21_bridge.chords import from_music21, pitches_from_music21, to_music21

SONORITIES = list(read_collection(shipped_path(COLLECTION)))


@pytest.mark.parametrize("sonority", SONORITIES, ids=lambda sonority: sonority.id)
@pytest.mark.parametrize("concert", [False, True])
def test_music21_hears_the_same_cents(sonority, concert):
    chord = to_music21(sonority, concert=concert)
    expected = sonority.concert_pitches if concert else sonority.written_pitches
    heard = [Fraction(round(pitch.ps * 1000), 10) for pitch in chord.pitches]
    assert heard == [pitch.cents for pitch in expected]
    assert [pitch.step for pitch in chord.pitches] == [pitch.step for pitch in expected]


@pytest.mark.parametrize("sonority", SONORITIES, ids=lambda sonority: sonority.id)
@pytest.mark.parametrize("concert", [False, True])
def test_there_and_back_the_tones_are_the_same(sonority, concert):
    chord = to_music21(sonority, concert=concert)
    back = from_music21(
        chord,
        concert=concert,
        id=sonority.id,
        saxophone=sonority.saxophone.name,
        fingering=str(sonority.fingering),
        evidence="invented",
    )
    assert back.written_pitches == sonority.written_pitches
    assert back.concert_pitches == sonority.concert_pitches
    assert back.fingering == sonority.fingering


def test_quarter_tones_and_microtones_of_music21_add_up():
    from music21.chord import Chord
    from music21.pitch import Pitch

    quarter_sharp = Pitch("F~4")
    quarter_sharp.microtone = 12.5
    first, second = pitches_from_music21(Chord([Pitch("B-4"), quarter_sharp]))
    assert (first.step, first.octave, first.alteration_cents) == ("F", 4, Fraction(125, 2))
    assert str(second) == "Bb4"
    # music21 counts semitones from C-1.
    assert first.cents == Fraction(round(quarter_sharp.ps * 1000), 10)


def test_what_makes_no_sonority_is_told():
    from music21.chord import Chord
    from music21.pitch import Pitch

    with pytest.raises(InputError, match="no octave"):
        pitches_from_music21(Chord([Pitch("C")]))
    with pytest.raises(InputError, match="no pitches"):
        pitches_from_music21(Chord())
    with pytest.raises(ReedchordError, match="fingering"):
        from_music21(Chord(["C4"]), id="bare", saxophone="alto", evidence="invented")

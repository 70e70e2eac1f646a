"""A sonority as a music21 chord: music21's own arithmetic gives the record's cents back."""

from fractions import Fraction

import pytest

from reedchord.collection import read_collection
from reedchord.demo_paths import COLLECTION, shipped_path
from reedchord.music21_bridge import to_music21

SONORITIES = list(read_collection(shipped_path(COLLECTION)))


@pytest.mark.parametrize("sonority", SONORITIES, ids=lambda sonority: sonority.id)
@pytest.mark.parametrize("concert", [False, True])
def test_music21_hears_the_same_cents(sonority, concert):
    chord = to_music21(sonority, concert=concert)
    expected = sonority.concert_pitches if concert else sonority.written_pitches
    heard = [Fraction(round(pitch.ps * 1000), 10) for pitch in chord.pitches]
    assert heard == [pitch.cents for pitch in expected]
    assert [pitch.step for pitch in chord.pitches] == [pitch.step for pitch in expected]

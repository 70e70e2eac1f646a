"""Concert pitches that music21 hears in a record are the ones by which it is found."""

import pytest
from music21 import instrument, pitch

from reedchord.choosing.search import find
from reedchord.choosing.search_wish import Wish
from reedchord.collection import Collection
from reedchord.pitch import parse_pitch
from samples import sonority

# music21's saxophone classes tell how each member transposes.
CLASSES = {
    "soprano": instrument.SopranoSaxophone,
    "alto": instrument.AltoSaxophone,
    "tenor": instrument.TenorSaxophone,
    "baritone": instrument.BaritoneSaxophone,
}
WRITTEN = ("F#4", "D5", "B-5", "C#6")


def _sounding(name):
    interval = CLASSES[name]().transposition
    heard = [interval.transposePitch(pitch.Pitch(written)) for written in WRITTEN]
    return tuple(parse_pitch(note.nameWithOctave.replace("-", "b")) for note in heard)


BAND = Collection(
    {
        name: sonority(name, *(text.replace("-", "b") for text in WRITTEN), saxophone=name)
        for name in CLASSES
    },
    {},
    "band",
)


@pytest.mark.parametrize("name", CLASSES)
def test_what_music21_hears_is_found_exactly(name):
    best = find(BAND, Wish(pitches=_sounding(name))).fitting[0]
    assert best.sonority.id == name
    assert [(meeting.tone.number, meeting.cents) for meeting in best.met] == [
        (number, 0) for number in range(1, 5)
    ]

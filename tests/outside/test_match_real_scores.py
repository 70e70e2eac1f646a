"""Chords of real scores, told and marked: music21 reads the same notes before and after.

The scores are read where the package music21 installs them; one part becomes an alto's.
"""

import pytest
from lxml import etree

from reedchord.collection import Collection
from reedchord.matching.match_score import apply, match_score
from reedchord.musicxml.document import read_score
from reedchord.musicxml.part_music import PartMusic
from reedchord.pitch import Pitch, parse_pitch
from reedchord.placement.strip import strip
from reedchord.saxophones import FAMILY
from samples import sonority
from truth.real_scores import NAMED, with_saxophone
from truth.score_text import root_file

SCORES = {"cr piano": 0, "cue notes": 1, "triplets": 1, "transposing clarinet": 1}
"""Real scores with a part that has chords."""
ALTO, LOWEST = FAMILY["alto"], parse_pitch("A3")
"""None of the parts transposes, so they are read as they sound."""
SHIFTS = (-17, 8, 21, 33, -4, 12)


def typed(name):
    """Return a score whose part with chords is an alto's, and a collection that has some."""
    data = root_file(NAMED[name].read_bytes())
    part_id = read_score(data).parts[SCORES[name]].id
    data = with_saxophone(data, part_id)
    music = PartMusic(next(p for p in read_score(data).parts if p.id == part_id))
    shown = {}
    for bar in music.part.bars:
        for event in music.bar(bar.index).events:
            if event.is_pitched and not event.is_rest and not event.is_cue:
                chord = sorted(map(ALTO.written, event.pitches), key=lambda pitch: pitch.cents)
                heights = tuple(pitch.cents for pitch in chord)
                if len(set(heights)) == len(chord) in (2, 3, 4) and heights[0] > LOWEST.cents:
                    shown.setdefault(heights, chord)
    birds = [
        sonority(f"bird-{number}", *map(_moved, chord, SHIFTS))
        for number, chord in enumerate(list(shown.values())[::2][:40])
    ]
    collection = Collection({bird.id: bird for bird in birds}, {}, "birds")
    return data, part_id, collection


def _moved(pitch, cents):
    return str(Pitch(pitch.step, pitch.octave, pitch.alteration_cents + cents))


def notes_of(data):
    """Return what makes up each note for a player, read by lxml alone."""
    root = etree.fromstring(data)
    kept = ("pitch", "rest", "duration", "type", "dot", "accidental", "notehead", "tie", "beam")
    return [
        [etree.tostring(child, with_tail=False) for tag in kept for child in note.iterfind(tag)]
        for note in root.iter("note")
    ]


@pytest.mark.parametrize("name", SCORES)
def test_marks_come_and_go_and_not_a_note_changes(name):
    data, part_id, collection = typed(name)
    matched = match_score(data, collection, parts=[part_id])
    assert len(matched.taken) >= 5
    marked = apply(matched, collection)
    assert notes_of(marked.data) == notes_of(data)
    assert strip(marked.data).data == data


@pytest.mark.parametrize("name", ["cr piano"])
def test_music21_reads_the_same_pitches_and_lengths(name):
    from music21 import converter

    data, part_id, collection = typed(name)
    marked = apply(match_score(data, collection, parts=[part_id]), collection)
    before, after = (
        [
            (n.offset, n.quarterLength, [p.ps for p in n.pitches])
            for n in converter.parseData(text, format="musicxml").flatten().notes
        ]
        for text in (data, marked.data)
    )
    assert after == before

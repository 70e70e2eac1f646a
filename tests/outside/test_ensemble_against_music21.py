"""What the other parts sound during a sonority, and how it beats, against music21."""

from __future__ import annotations

import warnings
from fractions import Fraction
from importlib.resources import files

import pytest

from outside.placed_real_scores import CASES, placed
from reedchord.collection_reading import parse_collection
from reedchord.ensemble.ensemble import Tuning, ensemble
from reedchord.musicxml.document import read_score
from reedchord.placement.place import place
from reedchord.placement.plan import parse_plan
from truth.score_text import as_text, root_file

NAMES = ("mixed line ends", "chorale", "version 4 voices", "cr chorale")
"""Real scores of several parts with one staff each, none of them transposing but ours."""


def their_sounds(data, part_index):
    """Return onset, end and pitch of every note of a part at concert pitch, ties joined."""
    from music21 import converter

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        score = converter.parseData(as_text(root_file(data)), format="musicxml")
        part = score.parts[part_index].toSoundingPitch().stripTies()
        found = set()
        for note in part.flatten().notes:
            onset, length = (exact(n) for n in (note.offset, note.quarterLength))
            found |= {(onset, onset + length, Fraction(p.ps)) for p in note.pitches if length}
        return found


def exact(length):
    return Fraction(length).limit_denominator(100_000)


@pytest.mark.parametrize("case", [case for case in CASES if case.name in NAMES], ids=str)
def test_the_other_parts_sound_what_music21_reads(case):
    data = placed(case).result.data
    score = read_score(data)
    found = ensemble(score, Tuning())
    theirs = {
        part.id: their_sounds(data, index)
        for index, part in enumerate(score.parts)
        if index != case.part
    }
    assert found.placements
    for one in found.placements:
        ours = {
            (sound.part.id, sound.onset_quarters, sound.end_quarters, sound.concert.cents / 100)
            for sound in one.others
        }
        wanted = {
            (part_id, onset, end, pitch)
            for part_id, sounds in theirs.items()
            for onset, end, pitch in sounds
            if onset < one.end_quarters and one.onset_quarters < end
        }
        assert ours == wanted


def demonstration():
    demo = files("reedchord").joinpath("demo_data")
    collection = parse_collection(demo.joinpath("harbour-band.yaml").read_text("utf-8"))
    plan = parse_plan(demo.joinpath("harbour-plan.yaml").read_text("utf-8"))
    data = demo.joinpath("harbour-lights.musicxml").read_bytes()
    return place(data, plan.placements, collection).data


@pytest.mark.parametrize("a4_hz", [440.0, 442.5])
def test_beats_follow_from_music21s_frequencies(a4_hz):
    from music21 import pitch

    def hz(sound):
        tone = pitch.Pitch()
        tone.ps = float(sound.concert.cents) / 100
        return tone.frequency * a4_hz / 440

    partials = {
        "unison": (1, 1),
        "octave": (2, 1),
        "fifth": (3, 2),
        "twelfth": (3, 1),
        "two octaves": (4, 1),
    }
    found = ensemble(read_score(demonstration()), Tuning(a4_hz=a4_hz)).pairs
    assert len(found) > 40
    for pair in found:
        low, high = sorted((hz(pair.tone), hz(pair.other)))
        up, down = partials[pair.beating.interval.name]
        assert pair.beating.beats_per_second == pytest.approx(abs(up * low - down * high), abs=0.01)

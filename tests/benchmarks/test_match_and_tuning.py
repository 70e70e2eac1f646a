"""How long matching and tuning take, against reading the score; nothing is asserted of seconds."""

import random
import time
from fractions import Fraction

import pytest

from ensemble_scores import with_part
from outside.placed_real_scores import CASES, placed
from reedchord.collection import Collection
from reedchord.ensemble.ensemble import Tuning, ensemble
from reedchord.matching.match_score import match_score
from reedchord.musicxml.document import read_score
from reedchord.pitch import pitch_from_cents
from reedchord.placement.place import place
from reedchord.score_time.sounding_notes import sounding_notes
from reedchord.score_time.whole_score import whole_score
from samples import COLLECTION, at, note, score, sonority
from truth.real_scores import NAMED, with_saxophone
from truth.score_text import root_file

pytestmark = pytest.mark.benchmark


def seconds(work):
    start = time.perf_counter()
    result = work()
    return time.perf_counter() - start, result


def every_note(data):
    """Read all notes of a score in time, which is the least that tuning has to do."""
    whole = whole_score(read_score(data))
    return [sounding_notes(whole, music) for music in whole.parts]


def test_tuning_of_the_largest_score():
    data = placed(next(case for case in CASES if case.name == "utf16 quartet")).result.data
    reading, _ = seconds(lambda: every_note(data))
    tuning, found = seconds(lambda: ensemble(read_score(data), Tuning()))
    print(f"\ntuning of {len(data):,} bytes: {tuning / reading:.2f} x all notes read")
    assert found.placements


def test_tuning_of_a_thousand_placements():
    base = with_part(score(*[note() * 4] * 250), *[note("B4") * 4] * 250)
    wanted = [at(bar, beat) for bar in range(1, 251) for beat in (1, 2, 3, 4)]
    data = place(base, wanted, COLLECTION).data
    reading, _ = seconds(lambda: every_note(data))
    tuning, found = seconds(lambda: ensemble(read_score(data), Tuning()))
    print(f"\n1000 placements: {tuning / reading:.2f} x all notes read")
    assert len(found.placements) == 1000


def birds(count):
    chance = random.Random(20261125)
    made = {}
    for number in range(count):
        keys = sorted(chance.sample(range(60, 95), 3))
        pitches = (pitch_from_cents(Fraction(100 * k + chance.randint(-40, 40))) for k in keys)
        made[f"b{number}"] = sonority(f"b{number}", *map(str, pitches))
    return Collection(made, {}, "birds")


def test_matching_against_a_large_collection():
    data = root_file(NAMED["triplets"].read_bytes())
    part_id = read_score(data).parts[1].id
    data, large, small = with_saxophone(data, part_id), birds(2000), birds(20)
    few, _ = seconds(lambda: match_score(data, small, parts=[part_id]))
    many, matched = seconds(lambda: match_score(data, large, parts=[part_id]))
    count = len(matched.chords)
    print(f"\n{count} chords in 2000 sonorities: {many / few:.1f} x the time in 20")
    assert matched.chords

"""How long rendering takes, against how long it sounds; nothing is asserted of seconds."""

import time

import pytest

from reedchord.acoustics.sound_writing import SoundFormat
from reedchord.collection_reading import read_collection
from reedchord.demo import demo_files
from reedchord.demo_paths import COLLECTION, shipped_path
from reedchord.sounding.hear import Way, hear_sonority
from reedchord.sounding.hear_files import heard_bytes
from reedchord.sounding.hear_score import ScoreWish, hear_score
from reedchord.sounding.practice import practice

pytestmark = pytest.mark.benchmark
SLACK_WATER = read_collection(shipped_path(COLLECTION))["alto-slack-water"]


def times_faster(work, kind=SoundFormat.WAV):
    start = time.perf_counter()
    hearing = work()
    heard_bytes(hearing, kind)
    return hearing, hearing.seconds / (time.perf_counter() - start)


@pytest.mark.parametrize("kind", [SoundFormat.WAV, SoundFormat.FLAC, None])
def test_a_sonority(kind):
    hearing, faster = times_faster(lambda: hear_sonority(SLACK_WATER, Way()), kind)
    print(f"\n{kind or 'MIDI'}, {len(hearing.tones)} tones: {faster:.0f} x real time")
    assert hearing.tones


def test_a_practice_line():
    hearing, faster = times_faster(lambda: practice(SLACK_WATER).hearing(Way().reading))
    print(f"\npractice, {hearing.seconds:.0f} seconds: {faster:.0f} x real time")
    assert hearing.tones


def test_a_score_of_five_parts():
    placed = demo_files()[0]
    hearing, faster = times_faster(lambda: hear_score(placed.data, ScoreWish()))
    print(f"\n{len(hearing.tones)} tones, {hearing.seconds:.0f} seconds: {faster:.0f} x real time")
    assert hearing.tones

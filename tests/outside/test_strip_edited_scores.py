"""Real scores in which somebody wrote something after sonorities were placed.

The scores are those that the package music21 ships (truth.real_scores).
"""

import pytest

from outside.placed_real_scores import CASES, IN_TURNS, placed, placed_in_turns
from reedchord.musicxml.document import read_score
from reedchord.musicxml.part_music import PartMusic
from reedchord.placement.strip import strip
from truth.score_text import encoding_of

DIVIDED = {"rests of all values", "bars of rest"}
"""Multi-bar rests stay divided, which is told."""
MOVED = {"direction in chord"}
"""Directions between the notes of a chord stand behind them afterwards."""
every_case = pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)


def with_remark(data: bytes) -> bytes:
    """Write a comment at the end of the last bar."""
    codec = encoding_of(data)
    text = data.decode(codec)
    end = text.rindex("</measure>")
    return (text[:end] + "<!-- louder? -->" + text[end:]).encode(codec)


def music(data: bytes) -> list[tuple]:
    return [
        (part.id, bar.index, event.onset_quarters, event.duration_quarters, event.voice)
        + (() if event.is_rest else tuple(event.is_pitched and event.pitches))
        for part in read_score(data).parts
        for read in [PartMusic(part)]
        for bar in part.bars
        for event in read.bar(bar.index).events
    ]


@every_case
def test_all_of_ours_goes_and_the_remark_stays(case):
    done = placed(case)
    stripped = strip(with_remark(done.result.data))
    assert (stripped.count, stripped.stay) == (len(done.result.placed), 0)
    assert bool(stripped.left) == (case.name in DIVIDED)
    if case.name in DIVIDED | MOVED:
        assert music(stripped.data) == music(done.before)
    else:
        assert stripped.data == with_remark(done.before)


@pytest.mark.parametrize("case", IN_TURNS, ids=lambda case: case.name)
def test_tremolos_go_with_both_their_chords(case):
    done = placed_in_turns(case)
    stripped = strip(with_remark(done.result.data))
    assert (stripped.count, stripped.stay) == (len(done.result.placed), 0)
    if case.name in DIVIDED | MOVED:
        assert music(stripped.data) == music(done.before)
    else:
        assert stripped.data == with_remark(done.before)

"""What must hold of checks whatever the tempo: remedies are true, and haste never helps."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reedchord.checks.checking import Conditions, check
from reedchord.checks.example import Example
from tiny_scores import BAND, tiny_score

MUSIC = {
    "speed.too-fast": "mf bell/8 bell/8 r/4 bell/16 bell/16 r/8 bell/8t C5/8t C5/8t",
    "change.too-hard": "f bell/4 gong/2 r/8 bell/8 r/16 gong/2",
}
_SCORES = {code: tiny_score(Example(music, "", tempo=60)) for code, music in MUSIC.items()}
_TEMPO = re.compile(r"it works at quarter = (\d+) and below")


def found(code, tempo):
    """The findings under one code at a tempo."""
    data = _SCORES[code].replace(b'<sound tempo="60"/>', b'<sound tempo="%d"/>' % tempo)
    return check(data, BAND, Conditions(select=frozenset({code}))).findings


def places(findings):
    return {(one.spot.bar, one.spot.beat) for one in findings}


@pytest.mark.parametrize("code", MUSIC)
@settings(max_examples=25, deadline=None)
@given(tempo=st.integers(30, 300))
def test_a_slower_tempo_that_is_offered_is_slow_enough_and_not_slower_than_need_be(code, tempo):
    for finding in found(code, tempo):
        told = [_TEMPO.search(remedy.words) for remedy in finding.remedies]
        for slower in (int(match[1]) for match in told if match):
            assert slower < tempo
            here = (finding.spot.bar, finding.spot.beat)
            assert here not in places(found(code, slower))
            assert here in places(found(code, slower + 1))


@pytest.mark.parametrize("code", MUSIC)
@settings(max_examples=25, deadline=None)
@given(tempi=st.tuples(st.integers(30, 300), st.integers(30, 300)))
def test_what_is_too_fast_at_a_tempo_is_too_fast_at_every_faster_one(code, tempi):
    slow, fast = sorted(tempi)
    assert places(found(code, slow)) <= places(found(code, fast))

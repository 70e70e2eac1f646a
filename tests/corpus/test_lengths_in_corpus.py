"""Lengths, build-ups and tremolos anywhere in the scores that the music21 package ships.

A slice of them by default: `REEDCHORD_CORPUS=whole python -m pytest tests/corpus -s` takes all
and prints the counts.
"""

import sys
from collections import Counter
from dataclasses import dataclass, field
from functools import cache
from random import Random

import pytest

from corpus.corpus_scores import (
    WHOLE,
    assert_rest_is_untouched,
    assert_voices_end_alike,
    chosen_scores,
    wishes,
)
from reedchord.errors import ReedchordError
from reedchord.musicxml.container import open_score
from reedchord.musicxml.document import read_score
from reedchord.placement.place import PlacedScore, place
from reedchord.placement.plan import Placement
from reedchord.placement.strip import strip
from samples import COLLECTION
from truth.musicxml_schema import new_schema_errors

SCORES = [path for path in chosen_scores() if path.stat().st_size < 400_000]
LENGTHS = ("16th", "eighth", "quarter", "quarter.", "half", "half.", "half+eighth", "whole", "3/8")
WAYS: tuple[dict[str, object], ...] = (
    {},
    {},
    {"build_up": True, "order": (2, 1, 3)},
    {"build_up": True, "fade": True, "order": (3, 1, 2)},
    {"bring_out": True},
    {"tremolo": "egret"},
)
PLACES = 8


@dataclass
class Outcome:
    """What came of one score."""

    placed: int = 0
    refusals: Counter[str] = field(default_factory=Counter)
    unplaced: int = 0
    """Refusals that do not say where."""


@cache
def outcome(path):
    """Place lengths at a spread of addresses and check everything; AssertionError if not."""
    result, chance = Outcome(), Random(f"lengths in {path.name}")
    try:
        data = open_score(path.read_bytes()).data
        score = read_score(data)
        asked = chance.sample(found := wishes(score, chance), min(PLACES, len(found)))
    except ReedchordError as error:
        result.refusals[error.code] += 1
        return result
    kept, done = [], None
    for plain in asked:
        wish = _with_length(plain, chance)
        try:
            done = place(data, [*kept, wish], COLLECTION)
            kept.append(wish)
        except ReedchordError as error:
            result.unplaced += not error.where.bar
            result.refusals[error.code] += 1
    if done is not None:
        result.placed = len(done.placed)
        _check(data, score, kept, done)
    return result


def _with_length(plain: Placement, chance: Random) -> Placement:
    way = {"sonority": "heron", "lasting": chance.choice(LENGTHS), **chance.choice(WAYS)}
    if chance.random() < 0.3:
        way["beat"] = f"{plain.beat}+1/2"
    return Placement.model_validate({**plain.model_dump(), **way})


def _check(data: bytes, score, kept: list[Placement], done: PlacedScore) -> None:
    assert new_schema_errors(data, done.data) == []
    assert_rest_is_untouched(data, done)
    assert_voices_end_alike(score, read_score(done.data))
    assert strip(done.data).data == data
    assert place(done.data, kept, COLLECTION).data == done.data


@pytest.mark.parametrize("path", SCORES, ids=lambda path: f"{path.parent.name}/{path.name}")
def test_lengths_anywhere_in_a_real_score(path):
    found = outcome(path)
    assert found.placed or found.refusals
    assert not found.unplaced


def test_the_counts_of_lengths():
    found = [outcome(path) for path in SCORES]
    refusals = sum((one.refusals for one in found), Counter())
    placed = sum(one.placed for one in found)
    said = ", ".join(f"{number} {code}" for code, number in refusals.most_common())
    sys.stdout.write(f"\n{placed} lengths placed in {len(found)} scores; refused: {said}\n")
    assert placed > (1_200 if WHOLE else 100)

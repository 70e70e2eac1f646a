"""A query over 100,000 sonorities against one bare numpy pass over the same tone matrix.

Target: at most five times as long. The query is everything from the wish to the five best with
their reasons; the table is made once for a collection, and its time is printed beside.
`pytest -m benchmark -s` prints what this machine takes.
"""

from __future__ import annotations

import random
import time
from fractions import Fraction

import numpy as np
import pytest

from reedchord.choosing import search
from reedchord.choosing.search_wish import Wish
from reedchord.choosing.tone_table import UNITS_PER_CENT, tone_table
from reedchord.collection import Collection
from reedchord.dynamics import SCALE
from reedchord.fingering import Fingering
from reedchord.pitch import parse_pitch, pitch_from_cents
from reedchord.saxophones import FAMILY
from reedchord.sonority import Sonority
from reedchord.sonority_fields import Evidence, Presence, Tone

COUNT = 100_000
MOST = 5
RUNS = 15
WISHES = {
    "F4 C5 A5": Wish(pitches=tuple(map(parse_pitch, ["F4", "C5", "A5"]))),
    "F4 C5 A5, within 20 cents": Wish(
        pitches=tuple(map(parse_pitch, ["F4", "C5", "A5"])), within_cents=Fraction(20)
    ),
    "F4 C5 A5, heard at mf, alto, C5 stands out": Wish(
        pitches=tuple(map(parse_pitch, ["F4", "C5", "A5"])),
        dynamic=SCALE[5],
        saxophones=(FAMILY["alto"],),
        emphasised=parse_pitch("C5"),
    ),
    "F C A in any octave": Wish(
        pitches=tuple(map(parse_pitch, ["F4", "C5", "A5"])), pitch_class=True
    ),
}


def generated(count: int) -> Collection:
    """Return sonorities of two to six tones over four octaves, for the whole family."""
    chance = random.Random(5)
    members = list(FAMILY.values())
    ways = [{SCALE[5]: presence} for presence in Presence] + [{}]
    keys = ["B", "A", "G", "F", "E", "D"]
    records = {}
    for number in range(count):
        heights = sorted(chance.sample(range(49_00, 98_00), chance.randint(2, 6)))
        tones = tuple(
            Tone.model_construct(
                written=pitch_from_cents(Fraction(height)), presence=chance.choice(ways)
            )
            for height in heights
        )
        name = f"s{number}"
        records[name] = Sonority.model_construct(
            id=name,
            saxophone=chance.choice(members),
            fingering=Fingering(tuple((key, "full") for key in chance.sample(keys, 3))),
            tones=tones,
            emphasised=chance.randint(1, len(tones)),
            evidence=Evidence.INVENTED,
        )
    return Collection(records, {}, "generated")


def bare_pass(matrix, wished, octave):
    """Return for each wished pitch and each sonority how far its nearest tone lies."""
    gaps = [np.abs(matrix - height) for height in wished]
    if octave:
        gaps = [np.abs((gap + octave // 2) % octave - octave // 2) for gap in gaps]
    return [gap.min(axis=0) for gap in gaps]


def fastest_seconds(*actions):
    """Return the fastest run of each action; they take turns, so that a busy machine is fair."""
    seconds = [[] for _ in actions]
    for _ in range(RUNS):
        for taken, action in zip(seconds, actions, strict=True):
            start = time.perf_counter()
            action()
            taken.append(time.perf_counter() - start)
    return [min(taken) for taken in seconds]


def seconds_of_query_and_passes(collection, wish):
    """Return the seconds of a query, of a bare pass, and of one over the heights as floats."""
    matrix = tone_table(collection).concert
    floats = matrix / UNITS_PER_CENT
    cents = [float(pitch.cents) for pitch in wish.wanted]
    units = [np.int32(one * UNITS_PER_CENT) for one in cents]
    octave = wish.pitch_class and 1200
    return fastest_seconds(
        lambda: search.find(collection, wish, most=MOST),
        lambda: bare_pass(matrix, units, octave * UNITS_PER_CENT),
        lambda: bare_pass(floats, cents, octave),
    )


@pytest.mark.benchmark
def test_query_against_a_bare_pass():
    collection = generated(COUNT)
    start = time.perf_counter()
    tone_table(collection)
    made = time.perf_counter() - start
    print(f"\n{COUNT} sonorities; their table, made once, takes {made:.2f} s")
    for name, wish in WISHES.items():
        found = search.find(collection, wish, most=MOST)
        assert len(found.fitting) == MOST
        ours, bare, floats = seconds_of_query_and_passes(collection, wish)
        print(
            f"  {name}: {1000 * ours:.1f} ms, {found.fitting_count} fit;"
            f" {ours / bare:.1f} times a bare pass, {ours / floats:.1f} times one in floats"
        )


@pytest.mark.benchmark
def test_from_how_many_on_arrays_are_faster(monkeypatch):
    wish = WISHES["F4 C5 A5"]
    print()
    for count in (500, 1000, 2000, 4000):
        collection = generated(count)
        start = time.perf_counter()
        tone_table(collection)
        made = time.perf_counter() - start
        monkeypatch.setattr(search, "MANY", 0)
        arrays, plain = fastest_seconds(
            lambda c=collection: search.find(c, wish, most=MOST),
            lambda c=collection: search.find(c, wish),
        )
        print(
            f"  {count}: one by one {1000 * plain:.1f} ms; arrays {1000 * arrays:.1f} ms, "
            f"and once {1000 * made:.1f} ms for the table"
        )

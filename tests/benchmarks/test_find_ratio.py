"""Queries over 100,000 sonorities against one bare numpy pass over the same tone matrix.

Target: at most five times as long. The hardest of the wishes here is within 600 cents, half an
octave, where most sonorities have a tone for every wish and the wishes contend for all of them.

A query is everything from the wish to the five best with their reasons; a bare pass tells how
far the nearest tone of each sonority lies from each wished pitch, or from one where none is
wished. The table is made once for a collection, and some columns for the first query that needs
them: these times are printed beside, and those of a bare pass into arrays that are there already.
`pytest -m benchmark -s` prints what this machine takes.
"""

from __future__ import annotations

import time
from fractions import Fraction

import numpy as np
import pytest

from benchmarks.generated_table import generated
from reedchord.choosing import search
from reedchord.choosing.search_wish import Wish
from reedchord.choosing.table_columns import tone_table
from reedchord.choosing.tone_table import UNITS_PER_CENT
from reedchord.dynamics import Dynamic
from reedchord.packed_records import packed, unpacked
from reedchord.pitch import parse_pitch
from reedchord.rhythm import parse_rate
from reedchord.saxophones import FAMILY
from reedchord.sonority_fields import Articulation, Evidence

COUNT = 100_000
MOST = 5
RUNS = 15


def pitches(text):
    return tuple(map(parse_pitch, text.split()))


CHORD = {"pitches": pitches("F4 C5 A5")}
FAST = {"speed": parse_rate("eighth at quarter = 96")}
FILTERS = {
    "heard at mf": {"dynamic": Dynamic.MF},
    "for alto": {"saxophones": (FAMILY["alto"],)},
    "in eighths at 96": FAST,
    "slapped in eighths at 96": FAST | {"articulation": Articulation.SLAP},
    "documented": {"evidence": Evidence.DOCUMENTED},
    "four tones": {"tone_count": 4},
    "A5 the highest": {"highest": parse_pitch("A5")},
    "F4 the lowest": {"lowest": parse_pitch("F4")},
    "a fifth in it": {"intervals": (Fraction(7),)},
    "E4 B4 avoided": {"avoid": pitches("E4 B4")},
    "connects to s17": {"connects_to": "s17"},
    "C5 stands out": {"emphasised": parse_pitch("C5")},
}
EVERYTHING = {"saxophones": (FAMILY["alto"], FAMILY["tenor"]), "dynamic": Dynamic.MF,
              "speed": parse_rate("eighth at quarter = 56"), "evidence": Evidence.CARRIED,
              "tone_count": 4, "intervals": (Fraction(7),), "avoid": pitches("E4")}  # fmt: skip
OUTER = {"lowest": parse_pitch("F4"), "highest": parse_pitch("A5")}
WISHES = (
    {
        "F4": {"pitches": pitches("F4")},
        "F4 C5 A5": CHORD,
        "F4 C5 A5 D4 G5": {"pitches": pitches("F4 C5 A5 D4 G5")},
        "F4 C5 A5, within 20 cents": CHORD | {"within_cents": Fraction(20)},
        "F4 C5 A5, within 200 cents": CHORD | {"within_cents": Fraction(200)},
        "F4 C5 A5, within 600 cents": CHORD | {"within_cents": Fraction(600)},
        "F4 C5 A5, written": CHORD | {"written": True},
        "F C A in any octave": CHORD | {"pitch_class": True},
        "F4 F4": {"pitches": pitches("F4 F4")},
        "F4 F4+60": {"pitches": pitches("F4 F4+60")},
        "F F C in any octave": {"pitches": pitches("F4 F4 C4"), "pitch_class": True},
    }
    | {f"F4 C5 A5, {name}": CHORD | one for name, one in FILTERS.items()}
    | FILTERS
    | {"F4 C5 A5, all of these": CHORD | EVERYTHING}
    | {"F4 C5 A5, nothing fits": CHORD | EVERYTHING | OUTER}
)


def bare_pass(matrix, wished, octave):
    """Return for each wished pitch and each sonority how far its nearest tone lies."""
    gaps = [np.abs(matrix - height) for height in wished]
    if octave:
        gaps = [np.abs((gap + octave // 2) % octave - octave // 2) for gap in gaps]
    return [gap.min(axis=0) for gap in gaps]


def bare_pass_into(matrix, wished, octave, gap, nearest):
    """Do the same with arrays that are there already."""
    for height, least in zip(wished, nearest, strict=True):
        np.abs(np.subtract(matrix, height, out=gap), out=gap)
        if octave:
            np.remainder(np.add(gap, octave // 2, out=gap), octave, out=gap)
            np.abs(np.subtract(gap, octave // 2, out=gap), out=gap)
        gap.min(axis=0, out=least)


def fastest_seconds(*actions):
    """Return the fastest run of each action; they take turns, so that a busy machine is fair."""
    seconds = [[] for _ in actions]
    for _ in range(RUNS):
        for taken, action in zip(seconds, actions, strict=True):
            start = time.process_time()
            action()
            taken.append(time.process_time() - start)
    return [min(taken) for taken in seconds]


def seconds_of_query_and_passes(collection, wish):
    """Return the seconds of a query and of both bare passes."""
    matrix = tone_table(collection).concert
    wished = [np.int32(p.cents * UNITS_PER_CENT) for p in wish.wanted or pitches("A4")]
    octave = 1200 * UNITS_PER_CENT if wish.pitch_class else 0
    gap, nearest = np.empty_like(matrix), np.empty((len(wished), matrix.shape[1]), matrix.dtype)
    return fastest_seconds(
        lambda: search.find(collection, wish, most=MOST),
        lambda: bare_pass(matrix, wished, octave),
        lambda: bare_pass_into(matrix, wished, octave, gap, nearest),
    )


def first_seconds(action):
    start = time.process_time()
    action()
    return time.process_time() - start


@pytest.mark.benchmark
def test_query_against_a_bare_pass():
    collection = generated(COUNT)
    made = first_seconds(lambda: tone_table(collection))
    print(f"\n{COUNT} sonorities; their table, made once, takes {made:.2f} s")
    for name, wished in WISHES.items():
        wish = Wish(**wished)
        first = first_seconds(lambda wish=wish: search.find(collection, wish, most=MOST))
        found = search.find(collection, wish, most=MOST)
        ours, bare, into = seconds_of_query_and_passes(collection, wish)
        print(
            f"  {name}: {1000 * ours:.2f} ms ({1000 * first:.0f} the first), "
            f"{found.fitting_count} fit; {ours / bare:.1f} times a bare pass, "
            f"{ours / into:.1f} times one into arrays that are there"
        )


@pytest.mark.benchmark
def test_the_first_search_of_a_program():
    kept = packed(generated(10_000))
    wish = Wish(**CHORD)
    first, later = (
        first_seconds(lambda: search.find(unpacked(kept), wish, most=MOST)) for _ in range(2)
    )
    print(
        f"\n  10,000 kept sonorities, unpacked and searched: {1000 * later:.0f} ms; "
        f"{first / later:.0f} times as long where their table was not kept"
    )


@pytest.mark.benchmark
def test_from_how_many_on_arrays_are_faster(monkeypatch):
    wish = Wish(**CHORD)
    print()
    for count in (500, 1000, 2000, 4000):
        collection = generated(count)
        made = first_seconds(lambda c=collection: tone_table(c))
        monkeypatch.setattr(search, "MANY", 0)
        arrays, plain = fastest_seconds(
            lambda c=collection: search.find(c, wish, most=MOST),
            lambda c=collection: search.find(c, wish),
        )
        print(
            f"  {count}: one by one {1000 * plain:.1f} ms; arrays {1000 * arrays:.1f} ms, "
            f"and once {1000 * made:.1f} ms for the table"
        )

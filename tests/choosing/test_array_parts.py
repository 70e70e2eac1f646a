"""The parts of the search over arrays, each against the plain function that it stands for."""

from __future__ import annotations

from itertools import combinations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from reedchord.choosing import array_assignment
from reedchord.choosing.array_assignment import NEVER, best_assignments
from reedchord.choosing.array_search import first_places
from reedchord.choosing.assignment import best_assignment
from reedchord.choosing.finger_table import finger_table
from reedchord.choosing.sorted_heights import sorted_heights
from reedchord.choosing.table_columns import make_tone_table
from reedchord.choosing.tone_table import PRESENCES, SILENT, UNITS_PER_CENT, UNKNOWN
from reedchord.dynamics import SCALE
from reedchord.fingering import Amount, Fingering
from reedchord.fingering_change import change_difficulty
from reedchord.keywork import KEYS
from reedchord.sonority_fields import Presence
from samples import sonority

MISSING = 9
# Few different costs, so that many ways cost the same.
PLANES = st.tuples(st.integers(1, 4), st.integers(1, 5), st.integers(1, 6)).flatmap(
    lambda shape: st.lists(
        st.sampled_from([NEVER, 0, 1, 1, 2, 5, MISSING]),
        min_size=shape[0] * shape[1] * shape[2],
        max_size=shape[0] * shape[1] * shape[2],
    ).map(lambda costs: np.array(costs, np.int32).reshape(shape))
)


def _one_by_one(costs, sonority_number):
    plain = [
        [None if cost == NEVER else cost for cost in row]
        for row in costs[:, :, sonority_number].tolist()
    ]
    chosen = best_assignment(plain, MISSING)
    total = sum(
        MISSING if column is None else row[column]
        for row, column in zip(plain, chosen, strict=True)
    )
    tones = costs.shape[1]
    return [tones if column is None else column for column in chosen], total


@given(PLANES)
def test_many_assignments_are_those_of_one_after_the_other(costs):
    taken, totals = best_assignments(costs, MISSING)
    for number in range(costs.shape[2]):
        assert (taken[:, number].tolist(), totals[number]) == _one_by_one(costs, number)


def test_assignments_of_many_blocks(monkeypatch):
    costs = np.random.default_rng(5).integers(0, MISSING, (3, 4, 50)).astype(np.int32)
    whole = best_assignments(costs, MISSING)
    monkeypatch.setattr(array_assignment, "_BLOCK", 64)
    for one, other in zip(whole, best_assignments(costs, MISSING), strict=True):
        assert one.tolist() == other.tolist()


def test_sums_that_would_not_fit_are_not_made():
    assert best_assignments(np.zeros((12, 12, 1), np.int32), 750 * UNITS_PER_CENT) is None
    assert best_assignments(np.zeros((8, 8, 1), np.int32), 750 * UNITS_PER_CENT) is not None


FINGERINGS = st.dictionaries(st.sampled_from(list(KEYS)), st.sampled_from(Amount), max_size=9).map(
    lambda keys: Fingering(tuple(keys.items()))
)


@given(FINGERINGS, st.lists(FINGERINGS, min_size=1, max_size=8))
def test_changes_to_many_are_as_hard_as_to_one_after_the_other(before, after):
    scores = finger_table(after).scores(before)
    assert scores.tolist() == [change_difficulty(before, one).score for one in after]


@given(
    st.lists(st.integers(-40, 60), max_size=30),
    st.integers(-60, 80),
    st.integers(0, 6),
    st.booleans(),
)
def test_what_is_near(heights, wished, within, by_class):
    octave = 12 if by_class else None
    rows = np.arange(len(heights), dtype=np.intp)
    found = sorted_heights(np.array(heights, np.int32), rows).near(wished, within, octave)
    nearest = {}
    for some, gaps in found:
        for row, gap in zip(some.tolist(), gaps.tolist(), strict=True):
            nearest[row] = min(gap, nearest.get(row, gap))
    gaps = [abs(height - wished) for height in heights]
    if by_class:
        gaps = [min(gap % 12, -gap % 12) for gap in gaps]
    assert nearest == {row: gap for row, gap in enumerate(gaps) if gap <= within}


@given(
    st.lists(st.tuples(*[st.integers(0, 3)] * 3), min_size=1, max_size=40),
    st.integers(1, 12),
)
def test_the_first_places(rows, most):
    keys = [np.array(column) for column in zip(*rows, strict=True)]
    assert (
        first_places(keys, most).tolist() == sorted(range(len(rows)), key=rows.__getitem__)[:most]
    )


MARKS = st.dictionaries(st.sampled_from(SCALE), st.sampled_from(Presence), max_size=4)


@given(st.lists(st.lists(MARKS, min_size=1, max_size=4), min_size=1, max_size=6))
def test_presences_and_dynamics_are_those_of_the_records(presences):
    records = tuple(
        sonority(f"s{number}", tones=[
            {"written": f"C{place + 4}", "presence": {str(m): str(p) for m, p in marks.items()}}
            for place, marks in enumerate(tones)
        ])
        for number, tones in enumerate(presences)
    )  # fmt: skip
    table = make_tone_table(records)
    for row, record in enumerate(table.records):
        said = record.possible_dynamics()
        levels = (said.softest.level, said.loudest.level) if said else (UNKNOWN, UNKNOWN)
        assert tuple(table.dynamics[:, row]) == levels
        for mark in SCALE:
            codes = table.heard(mark, written=True).presence[:, row].tolist()
            heard = [None if code == SILENT else PRESENCES[code] for code in codes]
            shown = [tone.presence_at(mark) for tone in record.tones]
            gone = [None if one is Presence.ABSENT else one for one in shown]
            assert heard[: len(gone)] == gone
            silent = [code == SILENT for code in codes]
            assert silent[: len(shown)] == [one is Presence.ABSENT for one in shown]
            assert all(silent[len(shown) :])


@given(st.lists(st.lists(st.integers(60, 84), min_size=1, max_size=5, unique=True), min_size=1))
def test_counts_outer_tones_and_intervals(semitones):
    records = tuple(
        sonority(f"s{number:03}", *map(_name, sorted(tones)))
        for number, tones in enumerate(semitones)
    )
    heard = make_tone_table(records).heard(None, written=True)
    cents = [[100 * tone for tone in sorted(tones)] for tones in semitones]
    assert heard.count.tolist() == [len(tones) for tones in cents]
    lowest, highest = heard.outer
    assert (lowest // UNITS_PER_CENT).tolist() == [tones[0] for tones in cents]
    assert (highest // UNITS_PER_CENT).tolist() == [tones[-1] for tones in cents]
    widths = sorted(
        (high - low, row) for row, tones in enumerate(cents) for low, high in combinations(tones, 2)
    )
    found = zip(heard.by_width.heights // UNITS_PER_CENT, heard.by_width.rows, strict=True)
    assert [(int(width), int(row)) for width, row in found] == widths


def _name(semitone):
    names = ["C", "C#", "D", "D#", "E", "F", "F#", "G", "G#", "A", "A#", "B"]
    return f"{names[semitone % 12]}{semitone // 12 - 1}"

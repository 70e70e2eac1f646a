"""How long a chain takes, and how that grows with its length, the collection and the players.

Printed by `pytest -m benchmark -s`; nothing is asserted about seconds. Collections are generated,
the same ones in every run; each row wishes two random pitches at a time.
"""

from __future__ import annotations

import random
import time

import pytest

from generated import generated_collection
from reedchord.chains.chain_wishes import wishes_from_text
from reedchord.choosing.chain import chain
from reedchord.pitch import pitch_from_cents

pytestmark = pytest.mark.benchmark

SIZES = (500, 1_000, 2_000, 4_000)
LENGTHS = (8, 16, 32, 64)
WISHES, SONORITIES = 32, 2_000


def row_of(count: int, saxophones: tuple[str, ...] = ("alto",)):
    """Return a row of so many wishes for two pitches each."""
    dice = random.Random(1)
    wishes = "; ".join(
        " ".join(str(pitch_from_cents(100 * dice.randrange(52, 74))) for _ in range(2))
        for _ in range(count)
    )
    row = wishes_from_text(wishes, lasts="half", tempo="72", at="mf", saxophones=saxophones)
    return row.request


def seconds_for(collection, request, **options):
    """Return seconds of this process, which other programs do not lengthen, and the chain."""
    begin = time.process_time()
    found = chain(collection, request, **options)
    return time.process_time() - begin, found


def told(seconds, found, what):
    cost = f"best cost {found.best[0].cost:.0f}"
    sure = (
        "proved"
        if found.proved
        else f"not below {found.at_least:.0f}, at most {found.width} weighed for a wish"
    )
    print(f"  {what:>26}: {seconds:6.2f} s, {cost}, {sure}")


def test_growth_with_the_collection():
    print(f"\nchain of {WISHES} wishes, one player")
    for size in SIZES:
        told(*seconds_for(generated_collection(size), row_of(WISHES)), f"{size} sonorities")


def test_growth_with_length_players_and_candidates():
    collection = generated_collection(SONORITIES)
    print(f"\nchain over {SONORITIES} sonorities")
    for length in LENGTHS:
        told(*seconds_for(collection, row_of(length)), f"{length} wishes")
    for width in (10, 20, 40, 80):
        timed = seconds_for(collection, row_of(WISHES), width=width)
        told(*timed, f"{WISHES} wishes, {width} candidates")
    for players in (2, 3):
        request = row_of(WISHES, ("alto",) * players)
        told(*seconds_for(collection, request), f"{WISHES} wishes, {players} players")

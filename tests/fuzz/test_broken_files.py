"""Whatever a file holds, only our own family of errors comes out, and in bounded time.

`REEDCHORD_FUZZ=20000 python -m pytest tests/fuzz -s` tries so many; a few hundred by default.
Each try depends on its number alone: `attempt(seed)` repeats it.
"""

import os
import sys
from collections import Counter
from random import Random

import pytest

from fuzz.broken_scores import broken, exercise, samples
from fuzz.broken_texts import TEXTS, read_text
from fuzz.cpu_limit import cpu_limit
from fuzz.mutations import mutated
from reedchord.errors import ReedchordError

COUNT = int(os.environ.get("REEDCHORD_FUZZ", "400"))


def test_broken_scores_raise_nothing_but_our_family():
    fates, faults = tried(attempt, range(COUNT))
    sys.stdout.write(f"\n{COUNT:,} broken scores: {told(fates)}\n")
    assert not faults, "\n".join(faults)
    assert len(fates) > 10


def test_broken_collections_and_plans_raise_nothing_but_our_family():
    fates, faults = tried(attempt_text, range(COUNT // 2))
    sys.stdout.write(f"\n{COUNT // 2:,} broken collections and plans: {told(fates)}\n")
    assert not faults, "\n".join(faults)
    assert len(fates) > 10


@pytest.mark.parametrize("seed", [2354, 2775, 4182, 19132])
def test_what_was_found_once_stays_mended(seed):
    assert attempt(seed)


def attempt(seed: int) -> str:
    """Break a score and use it; return how it ended."""
    chance = Random(seed)
    sample = chance.choice(samples())
    return exercise(broken(sample, chance), sample.wishes)


def attempt_text(seed: int) -> str:
    """Break a collection or a plan and read it; return how it ended."""
    chance = Random(seed)
    name = chance.choice(list(TEXTS))
    text = mutated(TEXTS[name].encode("utf-8"), chance).decode("utf-8", "replace")
    try:
        read_text(name, text)
    except ReedchordError as error:
        return error.code
    return "read"


def tried(work, seeds):
    """Return how often each end was met, and what came that must never come."""
    fates, faults = Counter(), []
    for seed in seeds:
        try:
            with cpu_limit():
                fates[work(seed)] += 1
        except Exception as fault:  # whatever it is, it is a find
            faults.append(f"seed {seed}: {type(fault).__name__}: {str(fault)[:200]}")
    return fates, faults


def told(fates):
    return ", ".join(f"{number} {code}" for code, number in fates.most_common())

from __future__ import annotations

from itertools import pairwise

from reedchord.checks.breath import BREATH_SECONDS, breath_words, seconds_of_breath
from reedchord.dynamics import SCALE, Dynamic


def test_every_dynamic_has_a_breath_and_louder_ones_are_shorter():
    """Common practice, no source."""
    lengths = [BREATH_SECONDS[mark] for mark in SCALE]
    assert len(lengths) == len(BREATH_SECONDS)
    assert all(soft >= loud for soft, loud in pairwise(lengths))


def test_the_loudest_of_a_crescendo_counts():
    assert seconds_of_breath([Dynamic.P, Dynamic.MP, Dynamic.F]) == BREATH_SECONDS[Dynamic.F]
    assert breath_words([Dynamic.P, Dynamic.F]).endswith("8 s at f (assumed)")


def test_where_no_dynamic_is_known_the_longest_breath_is_taken_and_said():
    assert seconds_of_breath([]) == max(BREATH_SECONDS.values())
    assert "however soft" in breath_words([])

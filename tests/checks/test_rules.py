"""Each rule on the examples that it owns."""

from __future__ import annotations

import pytest

from reedchord.checks.table import BY_CODE, RULES
from tiny_scores import codes_in

PASSES = [(rule.code, example) for rule in RULES for example in rule.passes]
FAILS = [(rule.code, example) for rule in RULES for example in rule.fails]


def name(entry):
    return entry if isinstance(entry, str) else entry.says


@pytest.mark.parametrize(("code", "example"), PASSES, ids=name)
def test_music_that_a_rule_passes(code, example):
    assert code not in codes_in(example)


@pytest.mark.parametrize(("code", "example"), FAILS, ids=name)
def test_music_that_a_rule_finds_at_fault(code, example):
    assert code in codes_in(example)


def test_every_rule_has_a_code_of_its_own_and_examples_of_both_kinds():
    assert len(BY_CODE) == len(RULES)
    for rule in RULES:
        assert rule.passes, rule.code
        assert rule.fails, rule.code
        assert rule.summary.endswith("."), rule.code

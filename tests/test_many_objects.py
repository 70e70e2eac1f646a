from __future__ import annotations

import gc

import pytest

from reedchord.many_objects import many_objects


def test_no_garbage_is_looked_for_meanwhile_and_again_afterwards():
    with many_objects():
        assert not gc.isenabled()
    assert gc.isenabled()


def test_also_after_a_mistake():
    with pytest.raises(KeyError), many_objects():
        raise KeyError
    assert gc.isenabled()


def test_a_program_that_looks_for_none_stays_so():
    gc.disable()
    try:
        with many_objects():
            pass
        assert not gc.isenabled()
    finally:
        gc.enable()


def test_garbage_that_was_made_meanwhile_is_found_later():
    class Ring:
        made = 0

        def __init__(self):
            self.ring = self

        def __del__(self):
            Ring.made -= 1

    with many_objects():
        for _ in range(10):
            Ring.made += 1
            Ring()
    gc.collect()
    assert Ring.made == 0


def test_what_a_program_has_frozen_stays_frozen():
    gc.freeze()
    try:
        frozen = gc.get_freeze_count()
        with many_objects():
            made = [[] for _ in range(10)]
        assert gc.get_freeze_count() == frozen
        assert any(one is made for one in gc.get_objects())
    finally:
        gc.unfreeze()

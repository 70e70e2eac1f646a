"""Dynamic marks and ranges of them, as players write them."""

import pytest

from reedchord.dynamics import SCALE, Dynamic, DynamicRange, parse_dynamic, parse_dynamic_range
from reedchord.errors import InputError


def test_the_scale_runs_from_soft_to_loud():
    assert [mark.level for mark in SCALE] == list(range(10))
    # common practice, no source
    assert Dynamic.PP.level < Dynamic.P.level < Dynamic.MP.level < Dynamic.MF.level
    assert Dynamic.MF.level < Dynamic.F.level < Dynamic.FF.level


@pytest.mark.parametrize("mark", SCALE)
def test_every_mark_is_read_back(mark):
    assert parse_dynamic(str(mark)) is mark
    assert parse_dynamic(f" {mark.upper()} ") is mark


@pytest.mark.parametrize("text", ["p-f", "P - F", "p to f", "p–f", "p  TO  f", "p—f"])
def test_a_range_is_written_in_many_ways(text):
    assert parse_dynamic_range(text) == DynamicRange(Dynamic.P, Dynamic.F)


def test_one_mark_is_a_range_of_one():
    only = parse_dynamic_range("mf")
    assert only == DynamicRange(Dynamic.MF, Dynamic.MF)
    assert str(only) == "mf"
    assert only.marks() == (Dynamic.MF,)


def test_a_range_holds_its_ends_and_what_lies_between():
    soft = parse_dynamic_range("pp-mp")
    assert soft.marks() == (Dynamic.PP, Dynamic.P, Dynamic.MP)
    assert [mark for mark in SCALE if mark in soft] == list(soft.marks())


@pytest.mark.parametrize("softest", SCALE)
def test_every_range_is_read_back(softest):
    for loudest in SCALE[softest.level :]:
        span = DynamicRange(softest, loudest)
        assert parse_dynamic_range(str(span)) == span


def test_a_range_the_wrong_way_round_says_the_right_one():
    with pytest.raises(InputError, match="ff is louder than p") as error:
        parse_dynamic_range("ff-p")
    assert error.value.hint == "Write the softer mark first: p-ff."


@pytest.mark.parametrize("text", ["p-", "-f", "-", "p-mf-f"])
def test_half_a_range_is_none(text):
    with pytest.raises(InputError, match="no range of dynamics") as error:
        parse_dynamic_range(text)
    assert error.value.code == "dynamics.range"


@pytest.mark.parametrize("text", ["", "forte", "sfz", "p-loud"])
def test_what_is_no_mark_is_told_with_the_marks(text):
    with pytest.raises(InputError, match="no dynamic mark") as error:
        parse_dynamic_range(text)
    assert "pp, p, mp, mf, f, ff" in error.value.hint

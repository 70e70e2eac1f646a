"""Options become the placement that a plan with the same words holds."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from reedchord.cli.placement_options import option_placement, option_style
from reedchord.errors import ReedchordError
from reedchord.placement.plan import Placement
from reedchord.placement.style import USUAL, Style

NONE = dict.fromkeys(Placement.model_fields)
PLACE = {"sonority": "heron", "part": "P1", "bar": "3"}


@pytest.mark.parametrize(
    ("options", "in_a_plan"),
    [
        ({}, {}),
        ({"beat": "2+1/3", "voice": "2", "staff": " 1 "}, {}),
        ({"grace": 2}, {}),
        ({"lasting": "half+eighth"}, {}),
        ({"lasting": "to bar 14 beat 1"}, {}),
        ({"emphasised": "G5+31"}, {}),
        ({"tones": "1, F#4", "order": "2,1"}, {"tones": [1, "F#4"], "order": [2, 1]}),
        (
            {"build_up": True, "fade": True, "steps": "quarter,eighth."},
            {"steps": ["quarter", "eighth."]},
        ),
        ({"tremolo": "egret", "slur": True, "dynamics": "pp < f > pp"}, {}),
        ({"trill": "egret", "manner": "very soft", "saxophone": "tenor", "carry": True}, {}),
    ],
)
def test_options_are_read_as_a_plan_reads_them(options, in_a_plan):
    read = option_placement(NONE | PLACE | options)
    assert read == Placement.model_validate(PLACE | options | in_a_plan)
    assert read.model_fields_set == {*PLACE, *options}


def test_a_style_changes_by_what_is_said():
    said = {"grid": "semitone", "cents": None, "marking": "diamond"}
    assert option_style(said, USUAL) == Style(grid="semitone", marking="diamond")
    assert Style() == USUAL


@pytest.mark.parametrize(
    ("options", "told"),
    [
        ({"sonority": None, "bar": None}, ["what is missing: sonority, --bar"]),
        ({"part": " "}, ["--part: it is empty", "Write which one is meant."]),
        ({"beat": ""}, ["--beat: it is empty", "Leave it out"]),
        ({"manner": "slab"}, ["--manner: it cannot be 'slab'", "Did you mean slap?"]),
        ({"tones": "1,H4"}, ["--tones", "'H4'"]),
        ({"grace": 100}, ["--grace: grace is at most 99, not 100"]),
        ({"emphasised": "x", "lasting": "y"}, ["--emphasise", "--for"]),
        ({"build_up": True, "saxophone": "trumpet"}, ["--saxophone", "trumpet"]),
    ],
)
def test_what_is_wrong_is_told_with_its_option(options, told):
    with pytest.raises(ReedchordError) as caught:
        option_placement(NONE | PLACE | options)
    assert all(words in str(caught.value) for words in told), str(caught.value)


LISTS = ("tones", "order", "steps")
TYPED = st.one_of(
    st.text(max_size=12),
    st.sampled_from(
        ["0\x1f", " 1\u3000, 2", "", ",", "F#4 ,G5+31", "٣", "\ud800", "TO BAR 3, beat 2"]
    ),
    st.sampled_from(
        [" half", "3 / 8", "half + eighth", "pp<f > pp", "ALTO", " very soft", "9" * 99]
    ),
)


@given(
    field=st.sampled_from(["lasting", "emphasised", *LISTS, "dynamics", "manner", "saxophone"]),
    text=TYPED,
)
def test_whatever_is_typed_means_what_it_means_in_a_plan(field, text):
    in_a_plan = text.split(",") if field in LISTS else text
    try:
        read = option_placement(NONE | PLACE | {field: text})
    except ReedchordError:
        with pytest.raises(ValidationError):
            Placement.model_validate(PLACE | {field: in_a_plan})
    else:
        assert read == Placement.model_validate(PLACE | {field: in_a_plan})

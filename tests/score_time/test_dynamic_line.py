from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reedchord.dynamics import Dynamic
from reedchord.musicxml.document import read_score
from reedchord.score_time.dynamic_line import DynamicLine, DynamicPoint, dynamic_line
from reedchord.score_time.whole_score import whole_score
from samples import note, score


def direction(inside, more=""):
    return f"<direction><direction-type>{inside}</direction-type>{more}</direction>"


def mark(name, more=""):
    return direction(f"<dynamics><{name}/></dynamics>", more)


def wedge(kind):
    return direction(f'<wedge type="{kind}"/>')


def line(*bars, staff="1", voice="1"):
    whole = whole_score(read_score(score(*bars)))
    return dynamic_line(whole, whole.parts[0], staff, voice)


def heard(*bars, **how):
    """The mark in force on each of the first four beats."""
    dynamics = line(*bars, **how)
    return [str(dynamics.dynamic(Fraction(beat)) or "?") for beat in range(4)]


C = note("C4")


def test_before_the_first_mark_nothing_is_known():
    assert heard(C * 2 + mark("p") + C * 2) == ["?", "?", "p", "p"]


def test_a_mark_holds_until_the_next():
    assert heard(mark("p") + C * 2 + mark("ff") + C * 2) == ["p", "p", "ff", "ff"]


def test_a_wedge_goes_evenly_to_the_mark_at_its_end():
    growing = mark("p") + wedge("crescendo") + C * 3 + wedge("stop") + mark("ff") + C
    assert heard(growing) == ["p", "mp", "f", "ff"]
    assert line(growing).level(Fraction(3, 2)) == Dynamic.P.level + Fraction(3 * 3, 6) + Fraction(
        1, 2
    )


def test_a_wedge_that_leads_nowhere_goes_one_mark():
    assert heard(mark("mf") + wedge("diminuendo") + C * 2 + wedge("stop") + C * 2) == [
        "mf",
        "mp",
        "mp",
        "mp",
    ]


def test_cresc_in_words_leads_to_the_next_mark():
    assert heard(mark("p") + direction("<words>cresc.</words>") + C * 3 + mark("ff") + C) == [
        "p",
        "mp",
        "f",
        "ff",
    ]


def test_fortepiano_is_loud_for_one_note():
    assert heard(mark("fp") + C * 4) == ["f", "p", "p", "p"]
    assert line(mark("fp") + C * 4).dynamics_between(Fraction(0), Fraction(1)) == ("f", "p")


def test_sforzato_is_louder_than_what_surrounds_it():
    assert heard(mark("p") + C + mark("sfz") + C * 3) == ["p", "mp", "p", "p"]


def test_marks_of_another_staff_do_not_count():
    both = mark("p", "<staff>1</staff>") + mark("f", "<staff>2</staff>") + C * 4
    assert heard(both) == ["p"] * 4
    assert heard(both, staff="2") == ["f"] * 4


def test_a_mark_of_one_voice_holds_for_the_staff_unless_voices_differ():
    assert heard(mark("p", "<voice>2</voice>") + C * 4) == ["p"] * 4
    differing = mark("p", "<voice>2</voice>") + mark("f", "<voice>1</voice>") + C * 4
    assert heard(differing) == ["f"] * 4
    assert heard(differing, voice="2") == ["p"] * 4


def test_a_mark_on_a_note_counts_too():
    marked = note("C4", more="").replace(
        "</note>", "<notations><dynamics><ff/></dynamics></notations></note>"
    )
    assert heard(C + marked + C * 2) == ["?", "ff", "ff", "ff"]


@pytest.mark.parametrize("name", ["ppppp", "fffff"])
def test_marks_beyond_the_scale_are_its_ends(name):
    assert heard(mark(name) + C * 4)[0] == name[:4]


MOMENTS = st.integers(0, 12).map(Fraction)
RAMPS = st.lists(st.tuples(MOMENTS, st.integers(1, 6)), max_size=5).map(
    lambda pairs: tuple(
        (start, start + length, Fraction(2), Fraction(5)) for start, length in sorted(pairs)
    )
)


@given(RAMPS, MOMENTS, st.integers(1, 6))
def test_wedges_are_found_as_by_looking_at_each(ramps, moment, length):
    dynamics = DynamicLine((DynamicPoint(Fraction(0), Fraction(1)),), ramps, frozenset(), {})
    covering = [ramp for ramp in ramps if ramp[0] <= moment < ramp[1]]
    if covering:
        start, end, low, high = covering[0]
        assert dynamics.level(moment) == low + (high - low) * (moment - start) / (end - start)
    else:
        assert dynamics.level(moment) == 1
    touched = any(ramp[0] < moment + length and moment < ramp[1] for ramp in ramps)
    assert dynamics.changes_between(moment, moment + length) == touched

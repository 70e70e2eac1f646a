from __future__ import annotations

import math
from fractions import Fraction

import pytest

from reedchord.errors import InputError
from reedchord.musicxml.document import read_score
from reedchord.score_time.tempo import bar_seconds, tempo_map
from reedchord.score_time.whole_score import whole_score
from samples import note, score

BAR = note("C4") * 4


def tempo_of(*bars, **how):
    whole = whole_score(read_score(score(*bars, **how)))
    return tempo_map(whole)


def sound(tempo):
    return f'<sound tempo="{tempo}"/>'


def metronome(unit="quarter", per_minute="60", more=""):
    return direction(
        f"<metronome><beat-unit>{unit}</beat-unit>{more}<per-minute>{per_minute}</per-minute>"
        "</metronome>"
    )


def direction(inside, after=""):
    return f"<direction><direction-type>{inside}</direction-type>{after}</direction>"


def words(text):
    return direction(f"<words>{text}</words>")


def test_a_score_without_a_mark_is_read_at_a_stated_tempo():
    tempo = tempo_of(BAR)
    assert tempo.seconds(Fraction(4)) == 2.0
    assert tempo.assumptions == ("no tempo is marked for the score: quarter = 120 is assumed",)


def test_another_tempo_can_be_assumed():
    whole = whole_score(read_score(score(BAR)))
    assert tempo_map(whole, assumed=Fraction(60)).seconds(Fraction(4)) == 4.0


@pytest.mark.parametrize(
    ("mark", "seconds"),
    [
        (sound(60), 4.0),
        (sound("90.5"), 4 * 60 / 90.5),
        (metronome("quarter", "60"), 4.0),
        (metronome("half", "60"), 2.0),
        (metronome("quarter", "60", "<beat-unit-dot/>"), 4 / 1.5),
        (metronome("eighth", "c. 120-126"), 4.0),
        (metronome("quarter", "60,5"), 4 * 60 / 60.5),
    ],
)
def test_marks_at_the_beginning(mark, seconds):
    tempo = tempo_of(mark + BAR)
    assert tempo.seconds(Fraction(4)) == pytest.approx(seconds)
    assert not tempo.assumptions


def test_the_sound_element_goes_first():
    """MusicXML 4.0, sound: what is played; the metronome mark is what is printed."""
    mark = direction(
        "<metronome><beat-unit>quarter</beat-unit><per-minute>60</per-minute></metronome>",
        sound(90),
    )
    assert tempo_of(mark + BAR).quarters_per_minute(Fraction(0)) == 90


def test_a_mark_in_the_middle_of_a_bar_counts_from_there():
    tempo = tempo_of(sound(60) + note("C4") * 2 + sound(120) + note("C4") * 2)
    assert [tempo.seconds(Fraction(at)) for at in range(5)] == [0, 1, 2, 2.5, 3]


def test_an_offset_moves_a_mark():
    mark = direction("<words>faster</words>", "<offset>2</offset>" + sound(120))
    tempo = tempo_of(sound(60) + mark + BAR)
    assert tempo.seconds(Fraction(4)) == 3.0


def test_metric_modulation_dotted_quarter_becomes_quarter():
    """An old dotted quarter lasts as long as a new quarter: 60 becomes 40 quarters a minute."""
    modulation = direction(
        "<metronome><beat-unit>quarter</beat-unit><beat-unit-dot/>"
        "<beat-unit>quarter</beat-unit></metronome>"
    )
    tempo = tempo_of(sound(60) + BAR, modulation + BAR)
    assert tempo.quarters_per_minute(Fraction(5)) == 40
    assert tempo.seconds(Fraction(8)) == 4 + 6


def test_ritardando_goes_evenly_to_the_next_tempo():
    """60 to 30 over four quarters: the integral of 60/(60 - 7.5 q) from 0 to 4 is 8 ln 2."""
    tempo = tempo_of(sound(60) + words("poco rit.") + BAR, sound(30) + BAR)
    assert tempo.quarters_per_minute(Fraction(2)) == 45
    assert tempo.seconds(Fraction(4)) == pytest.approx(8 * math.log(2))
    assert tempo.seconds(Fraction(8)) == pytest.approx(8 * math.log(2) + 8)
    assert "evenly" in tempo.assumptions[0]


@pytest.mark.parametrize(
    "bars",
    [
        (sound(60) + words("rit.") + BAR, words("a tempo") + BAR),
        (sound(60) + words("rit.") + BAR, sound(90) + BAR),
        (sound(60) + words("accel.") + BAR, sound(50) + BAR),
        (sound(60) + words("rall.") + BAR, *[BAR] * 9, sound(30) + BAR),
    ],
)
def test_words_that_lead_to_no_such_tempo_change_nothing_and_it_is_said(bars):
    tempo = tempo_of(*bars)
    assert tempo.seconds(Fraction(4)) == 4.0
    assert "the tempo is kept" in tempo.assumptions[0]


def test_seconds_grow_from_bar_to_bar():
    whole = whole_score(read_score(score(sound(60) + BAR, sound(120) + BAR)))
    assert bar_seconds(whole, tempo_map(whole)) == [0, 4, 6]


@pytest.mark.parametrize("mark", [sound("quick"), sound("-5"), metronome("minim")])
def test_marks_that_cannot_be_read_are_told(mark):
    with pytest.raises(InputError):
        tempo_of(mark + BAR)

"""Tones on the grid: pitch and label together are the truth."""

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reedchord.chord_spelling import Grid, SpelledTone, spelled
from reedchord.pitch import parse_pitch, pitch_from_cents


def on_grid(*pitches, grid=Grid.QUARTER):
    tones = spelled([parse_pitch(pitch) for pitch in pitches], grid)
    return [f"{tone.pitch.quarter_tone_text()} {tone.cents_label}" for tone in tones]


@pytest.mark.parametrize(
    ("pitch", "quarter", "semitone"),
    [
        ("A4", "A4 0", "A4 0"),
        ("A4+12", "A4 +12", "A4 +12"),
        ("G#5-12", "G#5 −12", "G#5 −12"),
        ("Bqf4+14", "Bqf4 +14", "B4 −36"),
        ("F5+31", "Fqs5 −19", "F5 +31"),
        ("F5+24", "F5 +24", "F5 +24"),
        ("F#5+50", "Gqf5 0", "G5 −50"),
        ("F##4", "G4 0", "G4 0"),
        ("Fb4", "Fb4 0", "Fb4 0"),
        ("E#4", "E#4 0", "E#4 0"),
        ("E#4+30", "Fqs4 −20", "E#4 +30"),
        ("C4+0.4", "C4 0", "C4 0"),
    ],
)
def test_one_tone_on_each_grid(pitch, quarter, semitone):
    assert on_grid(pitch) == [quarter]
    if pitch != "F#5+50":  # half-way between two semitones either is as near
        assert on_grid(pitch, grid=Grid.SEMITONE) == [semitone]


def test_two_tones_never_share_a_line_where_another_letter_helps():
    # Renderers stack or swap them: verovio issue 3206.
    low, high = spelled([parse_pitch("F4"), parse_pitch("F#4")], Grid.QUARTER)
    assert low.pitch.staff_position < high.pitch.staff_position
    assert (str(low.pitch), str(high.pitch)) == ("F4", "Gb4")


def test_close_tones_give_way_by_the_fewest_letters():
    assert on_grid("B4", "C5", "C#5") == ["B4 0", "C5 0", "Db5 0"]


@given(
    st.lists(st.integers(5000, 9000).map(Fraction), min_size=1, max_size=5, unique=True),
    st.sampled_from(Grid),
)
def test_every_chord_keeps_its_truth(heights, grid):
    true = [pitch_from_cents(cents) for cents in sorted(heights)]
    tones = spelled(true, grid)
    for pitch, tone in zip(true, tones, strict=True):
        assert tone.pitch.cents + tone.left_over_cents == pitch.cents
        assert abs(tone.left_over_cents) <= 50
        assert tone.pitch.alteration_cents in (-100, -50, 0, 50, 100)
        assert tone.pitch.cents % grid.cents == 0


@given(
    st.lists(st.integers(200, 700), min_size=1, max_size=4),
    st.integers(5000, 6500),
    st.sampled_from(Grid),
)
def test_tones_a_whole_tone_apart_ascend_on_the_staff(gaps, lowest, grid):
    heights = [Fraction(lowest + sum(gaps[:count])) for count in range(len(gaps) + 1)]
    tones = spelled([pitch_from_cents(cents) for cents in heights], grid)
    for low, high in pairwise(tones):
        assert low.pitch.staff_position < high.pitch.staff_position
        assert low.pitch.cents < high.pitch.cents


def test_twelve_tones_are_as_many_as_a_record_holds():
    true = [pitch_from_cents(Fraction(5025 + 250 * number)) for number in range(12)]
    tones = spelled(true, Grid.QUARTER)
    positions = [tone.pitch.staff_position for tone in tones]
    assert positions == sorted(set(positions))


def test_where_no_letter_helps_tones_share_a_line_rather_than_cross():
    tones = spelled(
        [pitch_from_cents(Fraction(cents)) for cents in (5980, 5988, 6041)], Grid.SEMITONE
    )
    positions = [tone.pitch.staff_position for tone in tones]
    assert positions == sorted(positions)


@given(st.integers(-50, 50))
def test_a_label_is_a_signed_whole_number(cents):
    label = SpelledTone(parse_pitch("A4"), Fraction(cents)).cents_label
    assert label.replace("−", "-") == (f"{cents:+d}" if cents else "0")

"""What music21 and partitura read from a hand-made score, as it must be."""

from fractions import Fraction

import pytest

from truth.music21_reading import Sounding, sounding_pitches
from truth.partitura_reading import partitura_pitches
from truth.real_scores import NAMED
from truth.score_text import as_text, root_file
from truth_tests.small_scores import ALTO, C_MAJOR, as_utf16, chord_score


def test_music21_reads_a_chord_at_concert_pitch():
    whole = Sounding(Fraction(0), (Fraction(60), Fraction(64), Fraction(67)))
    sixth_lower = Sounding(Fraction(0), (Fraction(51), Fraction(55), Fraction(58)))
    assert sounding_pitches(chord_score(*C_MAJOR), 0, 0) == [whole]
    assert sounding_pitches(chord_score(*C_MAJOR, transpose=ALTO), 0, 0) == [sixth_lower]
    assert sounding_pitches(as_utf16(chord_score(*C_MAJOR, transpose=ALTO)), 0, 0) == [sixth_lower]


def test_music21_keeps_quarter_tones_when_it_transposes():
    score = chord_score(("B", "-0.5", 4), ("F", "0.5", 5), transpose=ALTO)
    assert sounding_pitches(score, 0, 0) == [
        Sounding(Fraction(0), (Fraction(123, 2), Fraction(137, 2)))
    ]


def test_music21_reads_a_bar_of_a_real_score():
    # Bar index 4 of the chorale's first part, read off its bytes: crotchets F5 E flat 5 D5 C5.
    read = sounding_pitches(NAMED["chorale"].read_bytes(), 0, 4)
    assert [sounding.onset_quarters for sounding in read] == [0, 1, 2, 3]
    assert [sounding.pitches for sounding in read] == [(77,), (75,), (74,), (72,)]


def test_music21_fails_where_there_is_no_bar():
    with pytest.raises(IndexError):
        sounding_pitches(chord_score(*C_MAJOR), 0, 1)


def test_partitura_reads_written_pitches():
    score = chord_score(("C", "", 4), ("E", "-1", 4), ("G", "1", 4), transpose=ALTO)
    assert partitura_pitches(score) == [("C", None, 4), ("E", -1, 4), ("G", 1, 4)]


def test_partitura_refuses_a_quarter_tone_accidental():
    # partitura 1.9.0, measured: it looks the accidental up in a map of five.
    score = chord_score(("B", "-0.5", 4), extra="<accidental>quarter-flat</accidental>")
    with pytest.raises(KeyError):
        partitura_pitches(score)


def test_partitura_reads_every_pitch_of_a_real_score():
    data = NAMED["voice and clarinet"].read_bytes()
    assert len(partitura_pitches(data)) == as_text(root_file(data)).count("<pitch>")

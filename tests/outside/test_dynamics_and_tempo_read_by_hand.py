"""Dynamics and tempi of real scores as somebody read them off the page, bar by bar.

The scores are those that the package music21 installs; marks were read in their MusicXML, what
holds between two marks is common practice (no source): a mark holds until the next, a wedge that
leads to no mark goes one mark up or down, halfway between two the softer is meant.
"""

from __future__ import annotations

import functools
from fractions import Fraction

import pytest

from reedchord.musicxml.container import open_score
from reedchord.musicxml.document import read_score
from reedchord.score_time.dynamic_line import dynamic_line
from reedchord.score_time.tempo import tempo_map
from reedchord.score_time.whole_score import whole_score
from truth.real_scores import NAMED


@functools.cache
def whole(name):
    return whole_score(read_score(open_score(NAMED[name].read_bytes()).data))


def moment(name, part_id, bar, quarters):
    """Quarters from the score's start to a moment of a bar, by the bar's label."""
    music = whole(name).part(part_id)
    (index,) = [one.index for one in music.part.bars if one.label == bar]
    return whole(name).bar_starts[index] + Fraction(quarters)


# Webern, Dormi Jesu op. 16 no. 2, clarinet: bar, quarters into the bar, mark.
WEBERN = [
    ("1", "0", "pp"),  # pp at the first note
    ("1", "2", "p"),  # after a crescendo that leads to no mark
    ("2", "1/2", "p"),  # p at the C
    ("3", "0", "pp"),
    ("3", "1", "pp"),
    ("3", "7/2", "p"),  # the crescendo from beat 3 has ended
    ("4", "3/2", "p"),  # and still holds
    ("4", "7/2", "pp"),  # the diminuendo on beat 4 has come halfway to pp: the softer
    ("5", "1/2", "p"),
    ("7", "0", "pp"),
    ("8", "0", "pp"),
    ("9", "1", "p"),
    ("9", "2", "p"),
    ("11", "0", "p"),
    ("11", "1", "p"),
    ("12", "0", "pp"),
    ("12", "3", "pp"),  # "dim." without a goal: pp is kept
]


@pytest.mark.parametrize(("bar", "quarters", "mark"), WEBERN)
def test_the_clarinet_of_webern(bar, quarters, mark):
    music = whole("voice and clarinet").part("P2")
    line = dynamic_line(whole("voice and clarinet"), music, "1", "1")
    assert str(line.dynamic(moment("voice and clarinet", "P2", bar, quarters))) == mark


# Schoenberg, op. 19 no. 2, piano: bar, quarters, staff, voice, mark.
SCHOENBERG = [
    ("1", "0", "2", "3", "None"),  # nothing stands before the pp on beat 2
    ("1", "1", "2", "3", "pp"),  # the thirds of the left hand
    ("2", "1", "2", "3", "pp"),
    ("2", "3", "1", "1", "mf"),  # mf for the upper staff on beat 4 alone
    ("2", "3", "2", "3", "pp"),  # the thirds go on at pp
    ("3", "0", "1", "1", "p"),  # p espressivo
    ("3", "1", "2", "3", "pp"),
    ("3", "0", "2", "3", "pp"),
]


@pytest.mark.parametrize(("bar", "quarters", "staff", "voice", "mark"), SCHOENBERG)
def test_two_staves_of_schoenberg_have_dynamics_of_their_own(bar, quarters, staff, voice, mark):
    music = whole("mxl with junk").part("P1")
    line = dynamic_line(whole("mxl with junk"), music, staff, voice)
    assert str(line.dynamic(moment("mxl with junk", "P1", bar, quarters))) == mark


def test_schoenberg_gives_no_number_for_langsam():
    """ "Langsam (quarter note)" has no metronome number, so 120 is assumed and said to be."""
    tempo = tempo_map(whole("mxl with junk"))
    assert any("no tempo is marked" in said for said in tempo.assumptions)
    assert any("poco rit." in said for said in tempo.assumptions)  # to a tempo that is not marked
    assert tempo.quarters_per_minute(Fraction(0)) == 120


# Weber, Concertino for clarinet: the tempo in quarters a minute, well inside each section.
WEBER = [
    ("5", 60),  # Adagio ma non troppo, quarter = 60
    ("30", 60),
    ("45", 90),  # Andante, quarter = 90
    ("59", 90),
    ("60", 110),
    ("72", 110),
    ("73", 100),
    ("95", 100),
    ("96", 120),
    ("124", 120),
    ("125", 60),  # Piu lento
    ("146", 60),
    ("150", 150),  # Allegro in 6/8, dotted quarter = 100
]


@pytest.mark.parametrize(("bar", "quarters_per_minute"), WEBER)
def test_the_tempi_of_weber(bar, quarters_per_minute):
    name = "transposing clarinet"
    part_id = whole(name).parts[0].part.id
    tempo = tempo_map(whole(name))
    assert tempo.quarters_per_minute(moment(name, part_id, bar, "0")) == quarters_per_minute

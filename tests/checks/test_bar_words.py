"""The bar that stands beside a finding."""

from __future__ import annotations

from fractions import Fraction

from reedchord.checks.bar_words import MOST_CHARACTERS, bar_words
from reedchord.checks.checking import check
from reedchord.checks.example import Example
from reedchord.checks.finding import Spot
from reedchord.checks.told import told
from tiny_scores import BAND, tiny_score


def shown(music, **more):
    report = check(tiny_score(Example(music, "", **more)), BAND)
    return [bar_words(report.checked, finding.spot) for finding in report.findings]


def test_the_place_stands_in_brackets_among_what_is_around_it():
    (words,) = shown("p C5/4 bell/2:bring=3 r/4")
    assert words == "bar 1 | p, 1: C5 quarter, [2: M1 E4 C5 A5 half], 4: rest quarter |"


def test_wedges_grace_notes_and_odd_lengths_are_words_too():
    (words, *_) = shown("mf < bell/g C5/8t ! C5/8t C5/8t")
    assert words == (
        "bar 1 | mf, <, [1: M1 E4 C5 A5 grace], 1: C5 1/3 quarters, !, 1+1/3: C5 1/3 quarters, "
        "1+2/3: C5 1/3 quarters |"
    )


def test_a_place_without_a_bar_has_no_words():
    report = check(tiny_score(Example("mf bell/1", "", tempo=None)), BAND)
    assert [bar_words(report.checked, one.spot) for one in report.findings] == [None]
    assert bar_words(report.checked, Spot(part_id="P9", bar_index=0)) is None


def test_the_longest_bars_are_cut():
    (words, *_) = shown("pp bell/4 " + "C5/4 " * 60)
    assert MOST_CHARACTERS < len(words) < MOST_CHARACTERS + 30
    assert words.endswith("… |")


def test_lines_are_counted_by_every_line_end():
    for end in ("\n", "\r\n", "\r"):
        text = tiny_score(Example("mf C5/1 | pp bell/1", "")).decode()
        data = text.replace("\n", end).replace("<measure", f"{end}  <measure").encode()
        (one,) = told("x", check(data, BAND), is_package=False).told
        lines = data.decode().replace("\r\n", "\n").replace("\r", "\n").split("\n")
        line = lines[one.region.start_line - 1]
        assert line[one.region.start_column - 1 :].startswith('<measure number="2"')
        assert Fraction(one.finding.spot.onset_quarters) == 0

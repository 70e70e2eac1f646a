"""Sonorities in real scores, judged by the schema, by other readers and by plain text search.

The scores are those that the package music21 ships (truth.real_scores).
"""

import sys
from collections import Counter
from fractions import Fraction

import pytest

from outside.placed_real_scores import CASES, Placed, placed
from reedchord.chord_spelling import Grid
from reedchord.musicxml.document import read_score
from reedchord.musicxml.part_music import PartMusic
from reedchord.placement.undo import original_text
from truth.engraving import engraved
from truth.music21_reading import sounding_pitches
from truth.musicxml_schema import new_schema_errors
from truth.partitura_reading import partitura_pitches
from truth.score_text import encoding_of
from truth.untouched_text import without_touched

every_case = pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
SMALL = [case for case in CASES if placed(case).is_small]
small_case = pytest.mark.parametrize("case", SMALL, ids=lambda case: case.name)


@every_case
def test_something_is_placed(case):
    assert placed(case).result.placed


@every_case
def test_the_schema_finds_nothing_new(case):
    # MusicXML 4.0 XSD, W3C Community Group Report.
    done = placed(case)
    assert new_schema_errors(done.before, done.result.data) == []


def touched(done: Placed) -> set[int]:
    """Return the places of the touched measures among all measures of all parts."""
    return {
        one.target.part.bars[index].ordinal
        for one in done.result.placed
        for index in one.target.touched_bars
    }


@every_case
def test_all_bytes_outside_the_touched_bars_are_as_they_were(case):
    done = placed(case)
    codec = encoding_of(done.before)
    before, after = done.before.decode(codec), done.result.data.decode(codec)
    assert "reedchord" in after
    bars = touched(done)
    assert without_touched(after, bars) == without_touched(before, bars)


@every_case
def test_undoing_gives_the_same_bytes(case):
    done = placed(case)
    score = read_score(done.result.data)
    text = original_text(score, done.result.record)
    assert text is not None
    assert score.source.with_text(text).encode() == done.before


@every_case
def test_every_voice_ends_where_it_ended(case):
    done = placed(case)
    before, after = (
        PartMusic(read_score(data).parts[case.part]) for data in (done.before, done.result.data)
    )
    for bar in before.part.bars:
        assert before.bar(bar.index).ends == after.bar(bar.index).ends


@small_case
def test_music21_hears_the_concert_pitches(case):
    done = placed(case)
    for one in done.result.placed:
        if one.target.event.staff != "1":
            continue
        true = [one.sonority.concert(number).cents / 100 for number in one.sounding.numbers]
        if not one.target.pitch.is_concert:
            transpose = one.target.timeline.state_at(one.target.event.onset_quarters).transpose()
            # Where the real part transposes otherwise, playback follows the part.
            wrong_by = transpose.semitones - one.sonority.saxophone.semitones
            true = [height + wrong_by for height in true]
        heard = [
            sounding.pitches
            for sounding in sounding_pitches(done.result.data, case.part, one.target.bar.index)
            if abs(sounding.onset_quarters - one.target.event.onset_quarters) < Fraction(1, 1000)
        ]
        assert any(
            len(chord) == len(true)
            and all(abs(a - b) <= Fraction(1, 4) for a, b in zip(chord, true, strict=True))
            for chord in heard
        ), (one.target.where, heard, true)


def noteheads_more(done: Placed) -> int:
    """Return how many noteheads the placements bring, those that gave way taken off."""
    return sum(
        one.noteheads
        - sum(0 if event.is_rest else len(event.notes) for _, event in one.target.chain)
        for one in done.result.placed
    )


@small_case
def test_verovio_draws_the_new_noteheads_and_complains_of_nothing_new(case):
    done = placed(case)
    before, after = engraved(done.before), engraved(done.result.data)
    assert after.notehead_count - before.notehead_count == noteheads_more(done)
    assert Counter(after.warnings) - Counter(before.warnings) == Counter()


# partitura knows no quarter-tone accidentals, which this score has of its own.
@pytest.mark.parametrize(
    "case", [case for case in SMALL if case.name != "microtones"], ids=lambda case: case.name
)
def test_partitura_reads_every_pitch_on_the_semitone_grid(case):
    done = placed(case, Grid.SEMITONE)
    before, after = partitura_pitches(done.before), partitura_pitches(done.result.data)
    assert len(after) - len(before) == noteheads_more(done)


def test_multi_bar_rests_are_divided_where_something_sounds():
    (done,) = (placed(case) for case in CASES if case.name == "bars of rest")
    assert done.refusals == Counter()
    assert any("multi-bar rest of bars" in sentence for sentence in done.result.warnings)


def test_how_many_were_placed_and_how_many_refused():
    count = sum(len(placed(case).result.placed) for case in CASES)
    refusals = sum((placed(case).refusals for case in CASES), Counter())
    said = ", ".join(f"{number} {code}" for code, number in refusals.most_common()) or "none"
    sys.stdout.write(f"\n{count} placed in {len(CASES)} real scores; refused: {said}\n")
    assert count >= 100
    assert count > sum(refusals.values())

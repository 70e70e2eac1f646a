"""Lines to practise from: right by the schema, by an engraver and by another reader."""

import warnings
from fractions import Fraction

import pytest

from reedchord.collection_reading import read_collection
from reedchord.demo_paths import COLLECTION, shipped_path
from reedchord.dynamics import Dynamic
from reedchord.errors import RequestError
from reedchord.musicxml.document import read_score
from reedchord.sounding.hearing import Reading
from reedchord.sounding.practice import practice
from reedchord.wording import CAUTIONS
from samples import CRANE, EGRET, HERON, sonority
from truth.engraving import engraved
from truth.musicxml_schema import schema_errors

BAND = read_collection(shipped_path(COLLECTION))
SLACK_WATER = BAND["alto-slack-water"]
"""Three tones, entering 2, 1, 3."""


def chords(data):
    """Return the sounding chords of every bar as music21 reads them, in cents on our scale."""
    from music21 import converter

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        part = converter.parseData(data.decode(), format="musicxml").parts[0].toSoundingPitch()
        return [
            [[Fraction(100 * p.ps) for p in note.pitches] for note in bar.notes]
            for bar in part.getElementsByClass("Measure")
        ]


@pytest.mark.parametrize("name", [one.id for one in BAND])
def test_every_line_is_valid_and_drawn_without_a_warning(name):
    data = practice(BAND[name]).score
    assert schema_errors(data) == []
    drawn = engraved(data)
    assert drawn.warnings == ()
    assert drawn.notehead_count >= 3 * len(BAND[name].tones)


@pytest.mark.parametrize("name", [one.id for one in BAND])
def test_music21_reads_each_tone_alone_and_then_all(name):
    record = BAND[name]
    read = chords(practice(record).score)
    # Each shown pitch lies within a quarter tone of the record's (what is left over is a label).
    true = [pitch.cents for pitch in record.concert_pitches]
    order = record.build_up or record.numbers
    alone = [bar[0] for bar in read if bar and len(bar[0]) == 1][: len(order)]
    for number, shown in zip(order, alone, strict=True):
        assert abs(shown[0] - true[number - 1]) <= 50
    together = [bar[0] for bar in read if bar][-2:]
    for shown in together:
        assert len(shown) == len(true)
        assert all(abs(a - b) <= 50 for a, b in zip(sorted(shown), true, strict=True))


def test_the_build_up_follows_the_record():
    read = chords(practice(SLACK_WATER).score)
    growing = [len(chord) for bar in read[3:5] for chord in bar]
    assert growing == [1, 2, 3]
    assert read[3][0] == read[0][0]


def test_the_line_sounds_as_the_record_says():
    hearing = practice(SLACK_WATER).hearing(Reading())
    true = {round(pitch.hz(), 6) for pitch in SLACK_WATER.concert_pitches}
    assert {round(tone.frequency_hz, 6) for tone in hearing.tones} == true
    alone = [tone for tone in hearing.tones if tone.onset_seconds < 12]
    assert [tone.onset_seconds for tone in alone] == [0, 4, 8]
    assert {tone.duration_seconds for tone in alone} == {3}


def test_advice_and_cautions_stand_in_the_score():
    score = read_score(practice(SLACK_WATER).score)
    words = " ".join(" ".join(w.text.split()) for w in score.root.iter("words") if w.text)
    for sentence in (SLACK_WATER.advice, "made up, not played by anybody", *CAUTIONS):
        assert sentence in words
    assert practice(SLACK_WATER).advice[0] == f"Advice: {SLACK_WATER.advice}"


def test_without_an_order_the_tones_stand_from_below():
    line = practice(HERON)
    assert any("from below, without a build-up" in words for words in line.told)
    read = chords(line.score)
    assert [len(bar[0]) for bar in read if bar] == [1, 1, 1, 3, 3]


def test_a_single_tone_is_practised_as_it_is():
    one = sonority("one", "C5")
    assert [len(bar[0]) for bar in chords(practice(one).score) if bar] == [1, 1]


def test_the_mark_is_the_one_at_which_most_tones_sound():
    # The third tone of Slack water is absent at p, and faint at mp and mf.
    assert practice(SLACK_WATER).dynamic is Dynamic.MF
    late = sonority(
        "late",
        tones=[
            {"written": "C5", "presence": {"p-f": "clear"}},
            {"written": "A5", "presence": {"p-mf": "absent", "f": "faint"}},
        ],
    )
    assert practice(late).dynamic is Dynamic.F


def test_absent_tones_are_not_practised_alone():
    line = practice(SLACK_WATER, Dynamic.P)
    assert "absent at p, so not practised alone: tone 3" in line.told
    assert [len(bar[0]) for bar in chords(line.score) if bar][:3] == [1, 1, 1]


def test_no_tone_at_the_dynamic_is_refused():
    hush = sonority("hush", tones=[{"written": "C5", "presence": {"p": "absent", "f": "clear"}}])
    with pytest.raises(RequestError, match="at p no tone of hush sounds"):
        practice(hush, Dynamic.P)


@pytest.mark.parametrize("record", [EGRET, CRANE])
def test_the_same_record_gives_the_same_bytes(record):
    assert practice(record).score == practice(record).score

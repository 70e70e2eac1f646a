"""Scores that went through other libraries between placing and stripping.

The real scores are those that the package music21 ships (truth.real_scores).
"""

import re

import pytest

from outside.placed_real_scores import CASES, IN_TURNS, placed, placed_in_turns
from reedchord.chord_spelling import Grid
from reedchord.errors import RequestError
from reedchord.musicxml.document import read_score
from reedchord.musicxml.part_music import PartMusic
from reedchord.placement.found import State, ToldBy, find_placements
from reedchord.placement.place import place
from reedchord.placement.record import read_record
from reedchord.placement.strip import strip
from reedchord.placement.style import Style
from reedchord.placement.swap import swap
from samples import BAR_REST, COLLECTION, at, note, score, sonority
from truth.musicxml_schema import new_schema_errors, schema_errors
from truth.other_programs import through_music21, through_partitura
from truth.score_text import encoding_of

SPLIT_BY_MUSIC21 = "direction in chord"
"""music21 makes two chords of this score's first one, whoever wrote it (measured)."""
ROUNDED_BY_MUSIC21 = "rests of all values"
"""music21 counts 10,080 parts of a quarter, and half of a 128th is no number of them (measured)."""
TEAL = sonority("teal", "E4", "C5", "G5+60")
SMALL = [case for case in CASES if placed(case).is_small and case.name != SPLIT_BY_MUSIC21]
small_case = pytest.mark.parametrize("case", SMALL, ids=lambda case: case.name)
QUARTER_TONES_OF_ITS_OWN = "microtones"


def music(data: bytes) -> list[tuple]:
    """Return when everything sounds in a score, and how long, and what."""
    return [
        (part.id, bar.index, event.onset_quarters, event.duration_quarters, event.staff)
        + (() if event.is_rest else tuple(event.is_pitched and event.pitches))
        for part in read_score(data).parts
        for music in [PartMusic(part)]
        for bar in part.bars
        for event in music.bar(bar.index).events
    ]


@small_case
def test_after_music21_all_are_found_by_their_labels(case):
    saved = through_music21(placed(case).result.data)
    score = read_score(saved)
    found = find_placements(score, read_record(score))
    assert {one.told_by for one in found} == {ToldBy.LABEL}
    assert [one.words() for one in found if one.state is not State.INTACT] == []


@small_case
def test_stripped_after_music21_it_is_what_music21_makes_of_the_original(case):
    done = placed(case)
    saved, original = (through_music21(data) for data in (done.result.data, done.before))
    stripped = strip(saved)
    assert (stripped.count, stripped.stay) == (len(done.result.placed), 0)
    assert [told for told in stripped.left if "multi-bar rest stays divided" not in told] == []
    assert music(stripped.data) == music(original)
    assert b"footnote" not in stripped.data
    assert b'name="cents"' not in stripped.data
    # MusicXML 4.0 XSD.
    assert new_schema_errors(saved, stripped.data) == []


def test_after_music21_a_sonority_can_be_swapped_and_swapped_back():
    (case,) = (case for case in CASES if case.name == "rests of all values")
    saved = through_music21(placed(case).result.data)
    there = swap(saved, "heron", TEAL)
    back = swap(there.placed.data, "teal", COLLECTION["heron"])
    assert music(back.placed.data) == music(saved)


def test_after_music21_the_same_wishes_change_nothing():
    (case,) = (case for case in CASES if case.name == "chorale")
    done = placed(case)
    saved = through_music21(done.result.data)
    wishes = [row.wish for row in done.result.record.placements]
    assert place(saved, wishes, COLLECTION, whole=True).data == saved


def with_ids(case):
    """Place once more, in a score that declares the version in which notes may have ids."""
    done = placed(case)
    codec = encoding_of(done.before)
    text = done.before.decode(codec)
    newer = re.sub(r"(<score-partwise\b)[^>]*>", r'\1 version="4.0">', text, count=1).encode(codec)
    wishes = [row.wish for row in done.result.record.placements]
    return place(newer, wishes, COLLECTION, Style(grid=Grid.SEMITONE))


@pytest.mark.parametrize(
    "case",
    [case for case in SMALL if case.name != QUARTER_TONES_OF_ITS_OWN],
    ids=lambda case: case.name,
)
def test_partitura_drops_the_record_and_that_is_said(case):
    done = with_ids(case)
    saved = through_partitura(done.data)
    with pytest.raises(RequestError, match="notes carry our ids") as wrong:
        strip(saved)
    assert wrong.value.code == "record.lost"
    found = find_placements(read_score(saved), done.record)
    assert {one.told_by for one in found} == {ToldBy.ID}
    assert [one.words() for one in found if one.state is not State.INTACT] == []


HALVES = score(
    BAR_REST.format(4),
    note("C5", 2, type_="half") + note("D5", 2, type_="half"),
    BAR_REST.format(4),
    note("E5") * 4,
)
TURNS_AND_SLURS = [
    at(1, 1, "crane", lasting="half", tremolo="egret", slur=True),
    at(1, 3, "crane", lasting="half", slur=True),
    at(2, 1, "egret", slur=True),
    at(2, 3, "crane", trill="egret"),
    at(3, "1.5", "crane", tremolo="egret", lasting="eighth"),
]
OF_OURS = ("<slur", "<tremolo", "<tuplet", "<time-modification", "<beam", "<footnote", "rc-")


def test_after_music21_tremolos_and_slurs_are_taken_out_whole():
    """music21 10.5 makes tuplets and beams of our tremolos (measured)."""
    saved = through_music21(place(HALVES, TURNS_AND_SLURS, COLLECTION).data)
    assert b"<tuplet" in saved
    assert b"<beam" in saved
    done = strip(saved)
    assert (done.count, done.stay, done.left) == (5, 0, ())
    assert music(done.data) == music(through_music21(HALVES))
    assert [mark for mark in OF_OURS if mark in done.after] == []
    assert schema_errors(done.data) == []


@pytest.mark.parametrize(
    "case",
    [case for case in SMALL if case in IN_TURNS and case.name != ROUNDED_BY_MUSIC21],
    ids=lambda case: case.name,
)
def test_after_music21_tremolos_in_real_scores_are_taken_out_whole(case):
    """music21 10.5 divides the second chord of a dotted tremolo into tied ones (measured)."""
    done = placed_in_turns(case)
    saved, original = (through_music21(data) for data in (done.result.data, done.before))
    stripped = strip(saved)
    assert (stripped.count, stripped.stay) == (len(done.result.placed), 0)
    assert music(stripped.data) == music(original)
    assert new_schema_errors(saved, stripped.data) == []


def test_after_music21_a_slur_of_somebody_stays_though_it_has_the_number_of_ours_now():
    """music21 numbers slurs anew, in their order (measured)."""
    slur = '<notations><slur type="{}" number="3"/></notations></note>'
    opening = note("B4", 4, type_="whole").replace("</note>", slur.format("start"))
    closing = note("F5", 4, type_="whole").replace("</note>", slur.format("stop"))
    pair = note("C5", 2, type_="half") + note("D5", 2, type_="half")
    data = score(opening, pair, closing)
    placed = place(data, [at(2, slur=True), at(2, 3, "egret")], COLLECTION)
    saved = through_music21(placed.data)
    numbers = [re.findall(r'<slur.*?number="(.)"', text) for text in (placed.after, saved.decode())]
    assert numbers == [["3", "1", "1", "3"], ["1", "2", "2", "1"]]
    done = strip(saved)
    assert done.left == ()
    assert re.findall(r'<slur.*?number="(.)"', done.after) == ["1", "1"]
    assert music(done.data) == music(through_music21(data))


def test_after_partitura_and_with_the_record_put_back_all_goes():
    """partitura 1.9 gives slurs in a row one number, and tremolos none (measured)."""
    placed = place(HALVES, TURNS_AND_SLURS, COLLECTION, Style(grid=Grid.SEMITONE))
    (record,) = re.findall("<identification>.*?</identification>", placed.after, re.DOTALL)
    saved = through_partitura(placed.data).decode()
    done = strip(saved.replace("<part-list>", f"{record}<part-list>", 1).encode())
    assert (done.count, done.stay, done.left) == (5, 0, ())
    assert music(done.data) == music(through_partitura(HALVES))
    assert [mark for mark in OF_OURS if mark in done.after] == []
    assert schema_errors(done.data) == []

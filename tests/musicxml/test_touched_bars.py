"""Reading only what was touched gives what reading the whole document gives."""

import random

import pytest

from reedchord.errors import InputError
from reedchord.musicxml.bar_state import states_at_bars
from reedchord.musicxml.container import open_score
from reedchord.musicxml.document import read_score
from reedchord.musicxml.part_music import PartMusic
from reedchord.musicxml.splice import Edit, splice
from reedchord.musicxml.tag_search import end_of_start_tag
from reedchord.musicxml.touched_bars import read_touched
from truth.real_scores import NAMED

NEW = "<!-- <measure> --><direction><direction-type><words>x</words></direction-type></direction>"
TINY = (
    '<score-partwise><part-list><score-part id="P"><part-name>a</part-name></score-part>'
    '</part-list><part id="P">'
    '<measure number="1"><attributes><divisions>2</divisions></attributes>'
    '<note><rest/><duration>4</duration></note></measure>'
    '<measure number="2"/>'
    '<measure number="3"><!-- </measure> --><note><rest/><duration>3</duration></note></measure>'
    '<measure number=">"><note><rest/><duration>2</duration></note></measure>'
    "</part></score-partwise>"
)  # fmt: skip


def insertions(score, bars):
    return [
        Edit(point, point, NEW)
        for bar in bars
        for point in [end_of_start_tag(score.text, score.bar_span(bar)[0])]
        if score.text[point - 2] != "/"
    ]


def told(score, part, index):
    music = PartMusic(score.parts[part])
    bar = music.bar(index)
    return (
        [(e.onset_quarters, e.duration_quarters, e.pitches, e.voice, e.staff) for e in bar.events],
        bar.ends,
        bar.bar.label,
        music.multi_bar_rests.get(index),
    )


@pytest.mark.parametrize("name", sorted(NAMED))
def test_touched_bars_of_a_real_score_read_as_in_the_whole_document(name):
    before = read_score(open_score(NAMED[name].read_bytes()).data)
    part = random.Random(name).randrange(len(before.parts))
    all_bars = before.parts[part].bars
    bars = random.Random(name).sample(all_bars, min(6, len(all_bars)))
    edits = insertions(before, bars)
    after = splice(before.text, edits)
    whole = read_score(before.source.with_text(after).encode())
    touched = read_touched(before, after, edits)
    assert [p.id for p in touched.parts] == [p.id for p in whole.parts]
    for one, other in zip(touched.parts, whole.parts, strict=True):
        assert [bar.label for bar in one.bars] == [bar.label for bar in other.bars]
        assert list(states_at_bars(one)) == list(states_at_bars(other))
    for bar in bars:
        try:
            wanted = told(whole, part, bar.index)
        except InputError:
            continue
        assert told(touched, part, bar.index) == wanted


def test_bars_that_nobody_touched_are_empty_and_keep_their_names():
    before = read_score(TINY.encode())
    last = before.parts[0].bars[3]
    edits = insertions(before, [last])
    touched = read_touched(before, splice(before.text, edits), edits)
    assert [bar.label for bar in touched.parts[0].bars] == ["1", "2", "3", ">"]
    assert [len(bar.element) for bar in touched.parts[0].bars] == [2, 0, 0, 3]


def test_bars_to_be_looked_at_are_whole():
    before = read_score(TINY.encode())
    bars = before.parts[0].bars
    touched = read_touched(before, before.text, [], [bars[2]])
    assert [len(bar.element) for bar in touched.parts[0].bars] == [2, 0, 2, 0]


@pytest.mark.parametrize(
    "broken", ["</note>", "<note>", "<a b='1' b='2'/>", "&none;", "<", "</measure>", "]]>"]
)
def test_what_breaks_the_document_breaks_it_here_too(broken):
    before = read_score(TINY.encode())
    [edit] = insertions(before, [before.parts[0].bars[3]])
    edit = Edit(edit.start, edit.end, broken)
    after = splice(before.text, [edit])
    with pytest.raises(InputError):
        read_score(after.encode())
    with pytest.raises(InputError):
        read_touched(before, after, [edit])


def test_a_change_in_the_header_is_read():
    before = read_score(TINY.encode())
    point = before.text.index("<part-list>")
    edit = Edit(point, point, "<defaults><concert-score/></defaults>")
    assert read_touched(before, splice(before.text, [edit]), [edit]).is_marked_concert

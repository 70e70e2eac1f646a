"""Taking sonorities out of scores, also after somebody edited them."""

import re

import pytest

from reedchord.errors import RequestError
from reedchord.musicxml.document import read_score
from reedchord.placement.place import place
from reedchord.placement.record import read_record
from reedchord.placement.strip import strip
from samples import BAR_REST, COLLECTION, RESTS, at, events, note, score, shown
from truth.musicxml_schema import schema_errors

TWO = [at(2, 3), at(1, 1, "egret")]


def elsewhere(data: bytes) -> bytes:
    """Do what a person does who renames the part and adds a remark."""
    renamed = data.replace(b"Alto Saxophone", b"Alto Saxophone 1")
    return renamed.replace(b"</measure>\n</part>", b"<!-- louder? --></measure>\n</part>")


def test_without_edits_the_bytes_are_those_from_before():
    done = strip(place(RESTS, TWO, COLLECTION).data)
    assert (done.data, done.is_exact, done.count, done.stay) == (RESTS, True, 2, 0)


def test_an_edit_elsewhere_stays_and_all_of_ours_goes():
    done = strip(elsewhere(place(RESTS, TWO, COLLECTION).data))
    assert done.data == elsewhere(RESTS)
    assert (done.is_exact, done.count, done.stay, done.left) == (False, 2, 0, ())


ACCENT = "<notations><articulations><accent/></articulations></notations>"
MARKED = note("C5", 4, type_="whole").replace("</note>", f"{ACCENT}</note>")
CHORD = note("C5", 4, type_="whole") + note("E5", 4, type_="whole").replace(
    "<note>", "<note><chord/>"
)
SHARP = (
    note("F5", 4, type_="whole")
    .replace("<octave>5</octave></pitch>", "<alter>1</alter><octave>5</octave></pitch>")
    .replace("</type>", "</type><accidental>sharp</accidental><notehead>x</notehead>")
)
TIE = '<tie type="{0}"/>'
TIED = '<notations><tied type="{}"/></notations></note>'
CHAIN = (
    note("C5", 4, type_="whole", more=TIE.format("start")).replace("</note>", TIED.format("start")),
    note("C5", 4, type_="whole", more=TIE.format("stop")).replace("</note>", TIED.format("stop")),
)


@pytest.mark.parametrize(
    "bars",
    [
        [note(quarters=4, type_="whole")],
        [note(quarters=4, type_=None)],
        [BAR_REST.format(4)],
        [note("C5", 4, type_="whole")],
        [note("C5", 4, type_=None)],
        [MARKED],
        [CHORD],
        [SHARP],
        CHAIN,
        [note("C5", 4, type_="whole").replace("<note>", '<note id="mine">\n      ')],
        [note("C5", 4, type_="whole").replace("<voice>", "<!-- here -->\n <voice>")],
    ],
)
def test_whatever_stood_there_comes_back(bars):
    data = score(*bars, note() * 4)
    placed = place(data, [at(1)], COLLECTION).data
    assert placed != data
    assert strip(elsewhere(placed)).data == elsewhere(data)


def test_the_rest_that_became_two_tied_chords_is_one_rest_again():
    data = score(BAR_REST.format(5), beats=5)
    assert strip(elsewhere(place(data, [at(1)], COLLECTION).data)).data == elsewhere(data)


def test_what_was_added_to_a_chord_stays_with_what_comes_back():
    placed = place(score(note("C5", 4, type_="whole"), note() * 4), [at(1)], COLLECTION).data
    slur = b'<slur type="start"/></notations>'
    sung = b'<lyric number="9"><text>oh</text></lyric></note>'
    edited = placed.replace(b"</notations>", slur, 1).replace(b"</note>", sung, 1)
    done = strip(edited)
    (back,) = events(done.data)
    assert shown(back) == ["C5"]
    assert back.first.find("notations/slur") is not None
    assert [lyric.findtext("text") for lyric in back.first.iter("lyric")] == ["oh"]
    assert back.first.find("notations/technical") is None
    assert done.left == ()


def test_what_was_added_to_an_upper_note_moves_to_the_note_that_stays():
    placed = place(score(note("C5", 4, type_="whole")), [at(1)], COLLECTION).data
    edited = re.sub(rb"</note>(?!<note>)(?=</measure>)", ACCENT.encode() + b"</note>", placed)
    assert edited != placed
    (back,) = events(strip(edited).data)
    assert back.first.find("notations/articulations/accent") is not None


def test_an_edited_chord_stays_and_is_told():
    placed = place(RESTS, TWO, COLLECTION).data
    edited = placed.replace(b"<step>G</step>", b"<step>A</step>", 1)
    done = strip(edited)
    assert (done.count, done.stay) == (1, 1)
    (sentence,) = done.left
    assert "bar 2, beat 3" in sentence
    assert "M2 is edited (G♯5 is gone; A♯5 is new): it stays as it is" in sentence
    kept = read_record(read_score(done.data))
    assert [row.label for row in kept.placements] == ["M2"]
    assert list(kept.sonorities) == ["heron"]
    assert shown(events(done.data, 2)[2]) == ["E4", "Bqf4", "A#5"]
    assert all(event.is_rest for event in events(done.data, 1))
    assert schema_errors(done.data) == []


def test_where_all_were_edited_nothing_is_written():
    placed = place(RESTS, [at(2)], COLLECTION).data
    with pytest.raises(RequestError, match="G♯5 is gone") as wrong:
        strip(placed.replace(b"<step>G</step>", b"<step>A</step>", 1))
    assert wrong.value.code == "strip.edited"


def test_a_chord_that_is_gone_is_told():
    placed = place(RESTS, TWO, COLLECTION).data
    ours = re.compile(rb"<direction.*?</direction>(<note id.*?</note>)+", re.DOTALL)
    edited = ours.sub(b"", placed, count=1)
    done = strip(edited)
    assert (done.count, done.stay) == (1, 0)
    assert done.left == ("part P1, bar 1, beat 1: M1 is no longer there",)
    assert b"reedchord" not in done.data


def test_changed_words_stay_and_are_told():
    placed = place(RESTS, [at(2)], COLLECTION).data
    done = strip(placed.replace(b"<words>M1", b"<words>with Tom: M1", 1))
    assert b"with Tom" in done.data
    (sentence,) = done.left
    assert "the words 'with Tom: M1 invented' were changed and stay" in sentence


def test_a_longer_chord_was_edited():
    placed = place(score(note("C5", 2, type_="half") + note() * 2), [at(1)], COLLECTION).data
    with pytest.raises(RequestError, match="lasts 3 quarter notes instead of 2"):
        strip(placed.replace(b"<duration>2<", b"<duration>3<"))


def test_a_record_of_the_first_version_is_read_and_says_what_it_lacks():
    placed = place(RESTS, [at(2)], COLLECTION).data
    old = re.sub(rb',"was":\[\[.*?\]\]', b"", placed).replace(b'"version":2', b'"version":1')
    old = re.sub(rb',"words":\[.*?\]', b"", old)
    assert strip(old).data == RESTS
    with pytest.raises(RequestError, match="does not hold what stood there"):
        strip(elsewhere(old))


def test_a_score_that_lost_its_record_is_told_so():
    placed = place(RESTS, [at(2)], COLLECTION).data
    lost = re.sub(rb"<identification>.*?</identification>", b"", placed)
    with pytest.raises(RequestError, match="3 notes carry our ids") as wrong:
        strip(lost)
    assert wrong.value.code == "record.lost"


def test_placements_made_after_an_edit_can_be_taken_out_too():
    edited = elsewhere(place(RESTS, [at(2)], COLLECTION).data)
    again = place(edited, [at(1, 2, "egret")], COLLECTION).data
    assert strip(again).data == elsewhere(RESTS)


def test_a_copy_that_somebody_made_stays_and_is_told():
    placed = place(RESTS, [at(2)], COLLECTION).data
    bar = re.search(rb'<measure number="2">.*?</measure>', placed, re.DOTALL)[0]
    copy = re.sub(rb' id="rc-[^"]*"', b"", bar).replace(b'number="2"', b'number="4"')
    done = strip(placed.replace(b"\n</part>", copy + b"\n</part>"))
    assert (done.count, done.stay) == (1, 0)
    assert done.left == ("part P1 (Alto Saxophone), bar 4: a copy of M1 stays as it is",)
    assert all(event.is_rest for event in events(done.data, 2))
    assert shown(events(done.data, 4)[0]) == ["E4", "Bqf4", "G#5"]


def test_a_copy_of_one_note_is_told_too():
    placed = place(RESTS, [at(2)], COLLECTION).data
    (second,) = re.findall(rb'<note id="rc-1-2">.*?</note>', placed)
    last = placed.rindex(b"</measure>")
    copied = placed[:last] + second.replace(b"<chord/>", b"") + placed[last:]
    done = strip(copied)
    assert done.left == ("part P1 (Alto Saxophone), bar 3: a note of M1 stays as it is",)


def test_a_chord_that_became_a_cue_was_edited():
    placed = place(RESTS, [at(2)], COLLECTION).data
    with pytest.raises(RequestError, match="it is a cue now"):
        strip(re.sub(rb"(<note id[^>]*>)(<chord/>)?<pitch>", rb"\1<cue/>\2<pitch>", placed))


def test_words_that_were_changed_do_not_cost_a_neighbour_its_own():
    placed = place(RESTS, [at(1), at(1, 2), at(1, 3)], COLLECTION).data
    assert placed.count(b"<words>M1</words>") == 2
    done = strip(placed.replace(b"<words>M1</words>", b"<words>like M1</words>", 1))
    assert (done.count, done.stay) == (3, 0)
    assert done.data.count(b"<words>") == 1
    (sentence,) = done.left
    assert "bar 1, beat 2: the words 'like M1' were changed and stay" in sentence


def test_a_chord_whose_label_stands_in_two_of_its_notes_is_one_placement():
    placed = place(RESTS, [at(1), at(2)], COLLECTION).data
    bare = re.sub(rb' id="rc-[^"]*"', b"", placed)
    second = re.search(rb"<note><chord/>.*?(?=<voice>)", bare, re.DOTALL)[0]
    footnote = re.search(rb"<footnote>M1.*?</footnote>", bare, re.DOTALL)[0]
    done = strip(bare.replace(second, second + footnote, 1))
    assert (done.count, done.stay) == (2, 0)
    assert all(event.is_rest for bar in (1, 2) for event in events(done.data, bar))


def test_a_placement_ends_where_another_begins_though_somebody_tied_them():
    halves = note("C5", 2, type_="half")
    placed = place(score(halves * 2), [at(1), at(1, 3)], COLLECTION).data
    first, second = placed.split(b"<words>M1</words>", 1)
    tied = re.sub(rb"(<duration>.</duration>)", rb'\1<tie type="stop"/>', second)
    shorter = first.replace(b"<duration>2<", b"<duration>1<")
    done = strip(shorter + b"<words>M1</words>" + tied)
    assert (done.count, done.stay) == (1, 1)
    assert "lasts 1 quarter note instead of 2" in done.left[0]
    assert shown(events(done.data)[1]) == ["C5"]

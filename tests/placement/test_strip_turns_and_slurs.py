"""Tremolos, trills and slurs of ours taken out of a score that somebody edited."""

import json
import re

import pytest

from reedchord.collection import Collection
from reedchord.musicxml.document import read_score
from reedchord.pages.footnotes import footnotes_of
from reedchord.placement.found import State, find_placements
from reedchord.placement.held_plan import held_plan
from reedchord.placement.place import place
from reedchord.placement.plan import parse_plan
from reedchord.placement.record import read_record
from reedchord.placement.strip import strip
from samples import BAR_REST, COLLECTION, RESTS, at, events, note, score, shown, sonority
from truth.musicxml_schema import schema_errors
from truth.untouched_text import without_touched

BARS_OF_REST = score(BAR_REST.format(4), BAR_REST.format(4), BAR_REST.format(4))
WHOLE = note("C5", 4, type_="whole")
HALVES = score(
    note("C5", 2, type_="half") + note("D5", 2, type_="half"),
    note("E5", 2, type_="half") + note("F5", 2, type_="half"),
    note("G5", 4, type_="whole"),
)
"""Notes to place on, and behind them two notes of the composer's own."""
SLURRED = [at(1, slur=True), at(1, 3, "egret", slur=True), at(2, name="crane")]


ONE_AND_A_HALF = "".join(
    note("C5", parts, type_=value, more=f'<tie type="{way}"/>').replace(
        "</note>", f'<notations><tied type="{way}"/></notations></note>'
    )
    for parts, value, way in ((2, "quarter", "start"), (1, "eighth", "stop"))
)
"""Two tied notes in whose time the chords of a tremolo begin elsewhere."""


def edited(data: bytes) -> bytes:
    """Do what a person does who renames the part and adds a remark in the first bar."""
    renamed = data.replace(b"Alto Saxophone", b"Alto Saxophone 1")
    return renamed.replace(b"</measure>", b"<!-- louder? --></measure>", 1)


def placed(data, *wishes, collection=COLLECTION):
    """Place in a score, and see that all is found after somebody edited it."""
    result = place(data, wishes, collection)
    found = find_placements(read_score(edited(result.data)), result.record)
    assert [one.words() for one in found if one.state is not State.INTACT] == []
    assert schema_errors(result.data) == []
    return result.data


def stripped(data):
    """Strip, and hold the result against what always holds."""
    done = strip(data)
    assert schema_errors(done.data) == []
    bare = [without_touched(text, {0, 1}) for text in (data.decode(), done.after)]
    assert bare[0] == re.sub(r' id="rc-[^"]*"', "", bare[1]) or done.stay
    return done


def slurs(data):
    """Return the ends of slurs on each chord and rest of all bars: way and number."""
    return [
        [f"{slur.get('type')} {slur.get('number')}" for slur in event.first.iter("slur")]
        for bar in (1, 2, 3)
        for event in events(data, bar)
    ]


@pytest.mark.parametrize(
    ("data", "wishes"),
    [
        (BARS_OF_REST, [at(1, tremolo="egret")]),
        (BARS_OF_REST, [at(1, trill="egret", lasting="whole+half")]),
        (BARS_OF_REST, [at(1, "2.5", tremolo="egret", lasting="eighth")]),
        (BARS_OF_REST, [at(1, lasting="half", tremolo="egret", dynamics="mf")]),
        (RESTS, [at(1, 2, tremolo="egret")]),
        (RESTS, [at(1, 2, tremolo="egret", lasting="half.")]),
        (RESTS, [at(1, lasting="half", slur=True), at(1, 3, trill="egret", lasting="half+half")]),
        (score(ONE_AND_A_HALF, divisions=2), [at(1, tremolo="egret")]),
        (HALVES, [at(1, tremolo="egret"), at(3, trill="crane")]),
        (HALVES, [at(1, trill="egret", lasting="quarter")]),
        (HALVES, SLURRED),
        (HALVES, [at(1, slur=True, tremolo="crane"), at(1, 3, "egret", tremolo="crane")]),
        (score(WHOLE, WHOLE, version="3.0"), [at(1, slur=True), at(2, tremolo="egret")]),
        (
            BARS_OF_REST,
            [at(1, lasting="half", slur=True), at(1, 3, "egret", lasting="half", trill="crane")],
        ),
        (
            BARS_OF_REST,
            [
                at(1, "1.5", lasting="quarter", slur=True),
                at(1, "2.5", "crane", lasting="quarter", trill="egret", slur=True),
                at(1, "3.5", lasting="quarter+half"),
            ],
        ),
        (HALVES, [at(1, slur=True), at(1, 3, "egret", as_written=True, tones=[1])]),
    ],
)
def test_what_stood_there_comes_back_to_the_byte(data, wishes):
    done = strip(edited(placed(data, *wishes)))
    assert (done.data, done.left, done.stay) == (edited(data), (), 0)


TIED = """<note default-x="80">
      <pitch><step>C</step><octave>5</octave></pitch>
      <duration>4</duration>
      <tie type="{0}"/>
      <voice>1</voice>
      <type>whole</type>
      <notations>
        <tied type="{0}"/>
      </notations>
    </note>"""
REST = """
    <note default-x="{}">
      <rest/>
      <duration>2</duration>
      <voice>1</voice>
      <type>half</type>
    </note>"""


@pytest.mark.parametrize(
    ("bars", "wishes"),
    [
        ([TIED.format("start"), TIED.format("stop")], [at(1, tremolo="egret")]),
        (
            [REST.format(20) + REST.format(90)],
            [at(1, lasting="half.", slur=True), at(1, 4, "egret", lasting="quarter")],
        ),
        ([REST.format(20) + REST.format(90)], [at(1, trill="egret"), at(1, 3, tremolo="egret")]),
    ],
)
def test_white_space_and_the_look_on_the_page_come_back(bars, wishes):
    data = score(*bars)
    assert strip(edited(placed(data, *wishes))).data == edited(data)


def test_where_somebody_wrote_into_a_note_it_is_not_overwritten():
    """An attribute and a comment, in the first of the chords that stand for the note."""
    data = placed(score(TIED.format("start"), TIED.format("stop")), at(1, tremolo="egret")).decode()
    written = data.replace('default-x="80"', 'default-x="99"', 1)
    written = re.sub(r"<voice>1</voice>(?=\s*<type>)", r"<!-- louder? -->\g<0>", written, count=1)
    done = strip(written.encode())
    assert '<note default-x="99">' in done.after
    assert "<!-- louder? --><voice>" in done.after
    assert shown(events(done.data)[0]) == ["C5"]


def test_divisions_of_the_composer_stay():
    fine = "<attributes><divisions>4</divisions></attributes>"
    back = "<attributes><divisions>1</divisions></attributes>"
    data = score(fine + note("C5", 4) + back + note("D5") * 3)
    done = strip(edited(placed(data, at(1, tremolo="egret"), at(1, 2, tremolo="egret"))))
    assert done.data == edited(data)


def test_divisions_that_a_note_of_somebody_counts_in_stay():
    """The bar has 5 quarter notes afterwards, as the person made it."""
    data = placed(BARS_OF_REST, at(1, tremolo="egret", lasting="quarter")).decode()
    assert "<divisions>2</divisions>" in data
    point = data.index("<attributes><divisions>1</divisions></attributes></measure>")
    done = stripped((data[:point] + note("D5", 2) + data[point:]).encode())
    first, last = events(done.data)
    assert (first.is_rest, first.duration_quarters) == (True, 4)
    assert (shown(last), last.duration_quarters) == (["D5"], 1)


def test_both_words_fingerings_and_footnotes_of_a_tremolo_go():
    done = stripped(edited(placed(BARS_OF_REST, at(1, tremolo="egret", dynamics="p"))))
    for ours in ("<words>", "fingering", "footnote", "cents", "time-modification", "dynamics"):
        assert ours not in done.after


def test_where_something_was_written_beside_a_tremolo_a_rest_as_long_comes_back():
    data = placed(BARS_OF_REST, at(1, tremolo="egret", lasting="half"))
    taken = data.replace(b"<rest/>", b"<pitch><step>D</step><octave>5</octave></pitch>", 1)
    done = stripped(taken)
    rest, kept = events(done.data)
    assert (rest.is_rest, rest.duration_quarters, rest.first.findtext("type")) == (True, 2, "half")
    assert shown(kept) == ["D5"]
    assert "<time-modification>" not in done.after


def test_two_in_one_rest_of_which_one_was_edited():
    """The rest is not whole again, but has its part where the other was."""
    wishes = [at(1, lasting="half", slur=True), at(1, 3, "egret", lasting="half")]
    data = placed(BARS_OF_REST, *wishes).replace(b"<step>C</step>", b"<step>D</step>", 1)
    done = stripped(data)
    rest, kept = events(done.data)
    assert (rest.is_rest, rest.duration_quarters, shown(kept)) == (True, 2, ["D#4", "A4"])
    assert (done.count, done.stay) == (1, 1)


def test_what_somebody_added_to_either_chord_of_a_tremolo_stays_with_what_comes_back():
    accent = "<articulations><accent/></articulations>"
    data = placed(HALVES, at(1, tremolo="egret")).decode()
    ends = [found.end() for found in re.finditer(r"<notations>", data)]
    added = data[: ends[1]] + accent + data[ends[1] :]
    done = stripped(added.encode())
    first, *_ = events(done.data)
    assert shown(first) == ["C5"]
    assert [child.tag for child in first.first.find("notations")] == ["articulations"]


@pytest.mark.parametrize(
    ("states", "after"),
    [
        (["begin", "end"], None),
        (["begin", "continue"], "begin"),
        (["continue", "continue"], "continue"),
        (["continue", "end"], "end"),
    ],
)
def test_beams_that_a_program_added_are_those_of_one_note_again(states, after):
    data = placed(score(note("C5", type_="eighth") * 2), at(1, tremolo="egret")).decode()
    beams = iter(f'<beam number="1">{state}</beam><notations>' for state in states)
    (first, _) = events(strip(re.sub("<notations>", lambda _: next(beams), data).encode()).data)
    assert first.first.findtext("beam") == after


def gone(data, *ids, instead=""):
    """Take the notes with these ids out of a text, and write something else where they were."""
    body = data.index("<part id")
    for number, name in enumerate(ids):
        start = data.index(f'<note id="{name}"', body)
        end = data.index("</note>", start) + len("</note>")
        data = data[:start] + (instead if number == 0 else "") + data[end:]
    return data


@pytest.mark.parametrize(
    ("edit", "told"),
    [
        (
            lambda data: gone(data, "rc-1-4", "rc-1-5"),
            "M1 is edited (M2 is gone; lasts 2 quarter notes instead of 4): it stays as it is",
        ),
        (
            lambda data: gone(data, "rc-1-4", "rc-1-5", instead=note(quarters=2, type_="half")),
            "M1 is edited (M2: it is a rest now): it stays as it is",
        ),
        (
            lambda data: re.sub(
                r"<duration>2(?=</duration>(?!</note>))", "<duration>1", data, count=5
            ),
            "M1 is edited (lasts 2 quarter notes instead of 4): it stays as it is",
        ),
        (
            lambda data: data.replace("<step>A</step>", "<step>B</step>", 1),
            "M1 is edited (M2: A4 is gone; M2: B4 is new): it stays as it is",
        ),
    ],
)
@pytest.mark.parametrize("way", ["tremolo", "trill"])
def test_a_tremolo_or_trill_that_was_edited_stays_and_is_told(way, edit, told):
    data = placed(score(WHOLE, WHOLE), at(1, **{way: "egret"}), at(2)).decode()
    changed = edit(data)
    assert changed != data
    done = strip(changed.encode())
    assert [sentence.split("beat 1: ")[1] for sentence in done.left] == [told]
    assert (done.count, done.stay) == (1, 1)
    assert shown(events(done.data, 2)[0]) == ["C5"]
    row, *others = read_record(read_score(done.data)).placements
    assert (row.other.label, others) == ("M2", [])


def test_the_other_reports_leave_out_the_one_that_is_gone():
    data = placed(score(WHOLE), at(1, tremolo="egret")).decode()
    notes = footnotes_of(gone(data, "rc-1-4", "rc-1-5").encode())
    assert [one.label for one in notes] == ["M1"]
    assert "edited since it was placed: M2 is gone" in notes.notes[0].places


@pytest.mark.parametrize("version", ["3.0", "4.0"])
@pytest.mark.parametrize("way", ["start", "stop", "start|stop"])
def test_slurs_that_somebody_took_out_in_part_go_whole(way, version):
    """Also in the versions before ids, where the number tells what is left."""
    before = HALVES.replace(b'version="4.0"', f'version="{version}"'.encode())
    data = placed(before, *SLURRED).decode()
    cut = re.sub(rf'<slur type="({way})"[^>]*>', "", data)
    assert cut.count("<slur") < data.count("<slur")
    assert strip(cut.encode()).data == before


THEIRS = {
    "the same number on the same notes": [(1, "start", 1), (2, "stop", 1)],
    "a longer one around ours": [(1, "start", 1), (3, "stop", 1)],
    "one that ends where ours begins": [(2, "start", 1), (3, "stop", 1)],
    "two": [(1, "start", 1), (1, "start", 3), (2, "stop", 3), (3, "stop", 1)],
}


def with_slurs(data, ends, look=""):
    """Write slurs on the first note of the first chords or notes of a text, counted from 1."""
    body = data.index("<part id")
    firsts = [m.end() for m in re.finditer(r"<note(?: [^>]*)?>(?!<chord)", data[body:])]
    for which, way, number in sorted(ends, reverse=True):
        end = data.index("</note>", body + firsts[which - 1])
        slur = f'<slur type="{way}" number="{number}"{look}/>'
        inside = data.rfind("</notations>", body + firsts[which - 1], end)
        where = end if inside < 0 else inside
        slur = slur if inside >= 0 else f"<notations>{slur}</notations>"
        data = data[:where] + slur + data[where:]
    return data


@pytest.mark.parametrize("look", ["", ' placement="above"'])
@pytest.mark.parametrize("version", ["3.0", "4.0"])
@pytest.mark.parametrize("ends", THEIRS.values(), ids=THEIRS)
def test_slurs_of_others_stay_on_what_comes_back(ends, version, look):
    before = HALVES.replace(b'version="4.0"', f'version="{version}"'.encode())
    data = placed(before, *SLURRED).decode()
    done = strip(with_slurs(data, ends, look).encode())
    assert done.left == ()
    expected = with_slurs(before.decode(), ends, look)
    assert slurs(done.data) == slurs(expected.encode())
    assert done.after.count(f'"{look}/>') == expected.count(f'"{look}/>')
    assert "rc-" not in done.after


def test_a_slur_of_others_that_ends_where_ours_did_is_not_taken_for_ours():
    """Somebody took our end out and wrote one like it: ids tell."""
    data = with_slurs(placed(HALVES, *SLURRED[1:]).decode(), [(1, "start", 1)])
    changed = re.sub(r' id="rc-3-slur-stop"| id="rc-2-slur-stop"', "", data)
    done = strip(changed.encode())
    assert done.left == ()
    assert slurs(done.data) == [["start 1"], [], ["stop 1"], [], []]


@pytest.mark.parametrize("version", ["3.0", "4.0"])
def test_a_slur_whose_end_somebody_moved_is_theirs_and_told(version):
    before = HALVES.replace(b'version="4.0"', f'version="{version}"'.encode())
    data = placed(before, *SLURRED).decode()
    moved = re.sub(r'<slur type="stop" number="2"[^>]*>', "", data)
    done = strip(with_slurs(moved, [(4, "stop", 2)]).encode())
    assert done.left == (
        "part P1 (Alto Saxophone), bar 1, beat 3: the slur from M2 to M3 was changed and stays",
    )
    assert slurs(done.data) == [[], ["start 2"], [], ["stop 2"], []]
    assert (done.count, done.stay) == (3, 0)


def test_slurs_to_and_from_a_chord_that_was_edited_go_and_are_told():
    changed = placed(HALVES, *SLURRED).replace(b"<step>A</step>", b"<step>B</step>", 1)
    done = stripped(changed)
    place_of_first = "part P1 (Alto Saxophone), bar 1, beat 1"
    assert done.left[1:] == (
        f"{place_of_first}: the slur from M1 to M2 is taken out",
        "part P1 (Alto Saxophone), bar 1, beat 3: the slur from M2 to M3 is taken out",
    )
    assert "M2 is edited (A4 is gone; B4 is new): it stays as it is" in done.left[0]
    assert "<slur" not in done.after
    assert shown(events(done.data)[1]) == ["C#4", "B4"]
    (row,) = read_record(read_score(done.data)).placements
    assert (row.wish.slur, row.slur) == (False, None)
    plan = parse_plan(held_plan(done.data))
    again = place(done.data, plan.placements, COLLECTION, plan.style, whole=True)
    assert again.data == done.data


def test_slurs_between_chords_that_were_edited_stay_with_them():
    data = placed(HALVES, *SLURRED, at(3))
    changed = data.replace(b"<step>A</step>", b"<step>B</step>", 1)
    changed = changed.replace(b"<octave>3</octave>", b"<octave>2</octave>", 1)
    done = stripped(changed)
    assert slurs(done.data)[1:3] == [["start 2"], ["stop 2"]]
    rows = read_record(read_score(done.data)).placements
    assert [(row.label, row.slur and row.slur.to) for row in rows] == [("M2", 3), ("M3", None)]


@pytest.mark.parametrize("ids", [("rc-1-1", "rc-1-2", "rc-1-3"), ("rc-2-1", "rc-2-2")])
def test_slurs_of_a_chord_that_is_gone_go_too(ids):
    half = note(quarters=2, type_="half")
    done = stripped(gone(placed(HALVES, *SLURRED).decode(), *ids, instead=half).encode())
    assert "<slur" not in done.after
    (sentence,) = done.left
    assert sentence.endswith("is no longer there")


def test_a_slur_leads_to_notes_that_are_only_marked():
    """They got no end of it before, and so it led nowhere."""
    pair = Collection(
        {"heron": COLLECTION["heron"], "ibis": sonority("ibis", "D5-10")}, {}, "samples"
    )
    wishes = [at(1, slur=True), at(1, 3, "ibis", as_written=True)]
    data = placed(HALVES, *wishes, collection=pair)
    assert slurs(data)[:2] == [["start 1"], ["stop 1"]]
    assert strip(data).data == HALVES
    assert strip(edited(data)).data == edited(HALVES)


def test_a_record_from_before_says_nothing_of_slurs_and_all_stays_as_it_is():
    data = placed(HALVES, *SLURRED[1:]).decode()
    (field,) = re.findall(r'name="reedchord">([^<]*)<', data)
    record = json.loads(field)
    del record["placements"][0]["was"], record["placements"][0]["slur"]
    old = json.dumps(record).replace("<", "\\u003c")
    done = strip(edited(data.replace(field, old).encode()))
    assert (done.count, done.stay) == (1, 1)
    assert "M1 is intact, but the record does not hold what stood there: it stays" in done.left[0]
    assert slurs(done.data) == [[], ["start 1"], ["stop 1"], [], []]
    held = parse_plan(held_plan(done.data)).placements
    assert [placement.slur for placement, _ in held] == [True]

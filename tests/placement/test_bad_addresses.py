"""Wishes that cannot be met: what is wrong, where, and what would be right."""

from fractions import Fraction

import pytest

from reedchord.errors import InputError, ReedchordError, RequestError, SeveralErrors, Where
from reedchord.placement.place import place
from reedchord.placement.plan import parse_plan
from samples import COLLECTION, RESTS, at, events, note, score


def refusal(data, *wishes):
    """Return the one error with which a score refuses wishes."""
    with pytest.raises(ReedchordError) as caught:
        place(data, wishes, COLLECTION)
    return caught.value


BAR_1_EMPTY = score("", note(quarters=4, type_="whole"))
PICKUP = score(note(), note() * 4).replace(b'number="1"', b'number="0"')
NOT_UNIQUE = RESTS.replace(b'number="2"', b'number="1"')
TWO_PARTS = RESTS.replace(
    b"</part-list>",
    b'<score-part id="P2"><part-name>Alto Saxophone</part-name></score-part></part-list>',
).replace(b"</score-partwise>", b'<part id="P2"><measure number="1"/></part></score-partwise>')
LONG = score(note("C5", 3, type_="half") + note())


@pytest.mark.parametrize(
    ("data", "wish", "code", "words"),
    [
        pytest.param(
            RESTS,
            at(1, part="Tuba"),
            "score.no-such-part",
            ["'Tuba'", "P1 (Alto Saxophone)"],
            id="no such part",
        ),
        pytest.param(
            TWO_PARTS,
            at(1, part="Alto Saxophone"),
            "score.part-not-unique",
            ["2 parts", "P1, P2"],
            id="two parts of one name",
        ),
        pytest.param(
            RESTS,
            at(9),
            "score.no-such-bar",
            ["no bar 9", "3 bars, labelled 1 to 3", "@1 to @3"],
            id="no such bar",
        ),
        pytest.param(
            PICKUP,
            at(1),
            "score.no-such-bar",
            ["no bar 1", "labelled 0 to 2"],
            id="a gap in the bar numbers",
        ),
        pytest.param(
            NOT_UNIQUE,
            at(1),
            "score.bar-not-unique",
            ["2 bars labelled 1", "@1, @2"],
            id="two bars of one label",
        ),
        pytest.param(
            RESTS,
            at(2, 7),
            "address.no-such-beat",
            ["bar 2, beat 7", "beat 1, 2, 3, 4"],
            id="no such beat",
        ),
        pytest.param(
            RESTS, at(2, 1, voice=3), "address.no-such-voice", ["voice 1"], id="no such voice"
        ),
        pytest.param(BAR_1_EMPTY, at(1), "address.no-such-beat", ["empty here"], id="an empty bar"),
        pytest.param(
            LONG,
            at(1, 2),
            "address.inside",
            ["middle of a note that begins on beat 1", "beat 1, 4"],
            id="the middle of a note",
        ),
        pytest.param(
            score(note(quarters=4, type_="whole")),
            at(1, "2.5"),
            "address.inside",
            ["middle of a rest that begins on beat 1"],
            id="the middle of a rest",
        ),
    ],
)
def test_addresses_that_do_not_exist(data, wish, code, words):
    error = refusal(data, wish)
    assert error.code == code
    for expected in words:
        assert expected in str(error)


@pytest.mark.parametrize("beat", ["0", "-1", "x", "1/0", "2,5"])
def test_a_beat_that_is_no_beat(beat):
    error = refusal(RESTS, at(1, beat))
    assert error.code == "rhythm.beat"
    assert "2+1/3" in str(error)


def test_a_voice_or_staff_that_the_bar_does_not_have():
    for wrong in ({"voice": "7"}, {"staff": "3"}):
        error = refusal(score(note("C5", 4, type_="whole")), at(1, **wrong))
        assert error.code == "address.no-such-voice"
        assert "voice 1, staff 1" in str(error)


def test_a_chord_of_which_only_some_notes_are_tied_on():
    upper = note("E5", 2, type_="half").replace("<note>", "<note><chord/>")
    tied = [note("C5", 2, type_="half", more=f'<tie type="{way}"/>') for way in ("start", "stop")]
    error = refusal(score(tied[0] + upper + tied[1] + upper), at(1, 1))
    assert error.code == "address.tie"
    assert "bar 1, beat 3" in str(error)


def test_a_note_that_is_tied_to_the_one_before():
    tied = note("C5", 2, type_="half", more='<tie type="start"/>') + note(
        "C5", 2, type_="half", more='<tie type="stop"/>'
    )
    error = refusal(score(tied), at(1, 3))
    assert error.code == "address.inside"
    assert "bar 1, beat 1: it takes the whole chain" in str(error)


def test_a_drum_stroke():
    stroke = note("C5").replace(
        "<pitch><step>C</step><octave>5</octave></pitch>",
        "<unpitched><display-step>C</display-step><display-octave>5</display-octave></unpitched>",
    )
    assert refusal(score(stroke), at(1)).code == "address.unpitched"


def test_a_part_for_no_saxophone_names_the_saxophones_there_are():
    data = TWO_PARTS.replace(b"Alto Saxophone", b"Flute", 1)
    error = refusal(data, at(1))
    assert error.code == "part.no-saxophone"
    assert "P2 (Alto Saxophone)" in str(error)
    assert "--saxophone" in str(error)


def test_a_saxophone_of_unknown_size():
    error = refusal(score(note(), name="Saxophone"), at(1))
    assert error.code == "part.which-saxophone"
    assert "alto" in str(error)


def test_a_sonority_of_another_saxophone_offers_to_carry():
    error = refusal(RESTS, at(1, 1, "bittern"))
    assert error.code == "part.other-saxophone"
    assert "is for tenor, the part for alto" in str(error)
    assert "--carry" in str(error)
    assert "part P1 (Alto Saxophone), bar 1, beat 1" in str(error)


def test_an_unknown_sonority_has_near_names():
    error = refusal(RESTS, at(1, 1, "hern"))
    assert error.code == "collection.no-such-sonority"
    assert "Did you mean heron?" in str(error)


def test_a_tone_that_the_sonority_lacks():
    error = refusal(RESTS, at(1, tones=[5]))
    assert "1: E4-19" in str(error)


def beam(state):
    return f'<beam number="1">{state}</beam></note>'


def test_a_rest_under_a_beam():
    eighths = (
        note("C5", type_="eighth").replace("</note>", beam("begin"))
        + note(type_="eighth")
        + note("C5", type_="eighth").replace("</note>", beam("end"))
    )
    error = refusal(score(eighths, divisions=2), at(1, 1.5))
    assert error.code == "address.beam"
    assert "split a beam" in str(error)


@pytest.mark.parametrize(
    ("before", "after", "is_split"),
    [
        ("begin", "end", True),
        ("begin", "continue", True),
        (None, "end", False),
        ("begin", None, False),
        ("begin", "begin", False),  # a real score has such beams, each with its rest after it
        ("end", "begin", False),
        (None, None, False),
    ],
)
def test_a_beam_is_split_where_it_leads_on_to_the_next_note(before, after, is_split):
    first, last = (
        note("C5", type_="eighth").replace("</note>", beam(state) if state else "</note>")
        for state in (before, after)
    )
    data = score(first + note(type_="eighth") + last, divisions=2)
    if is_split:
        assert refusal(data, at(1, 1.5)).code == "address.beam"
    else:
        assert len(place(data, [at(1, 1.5)], COLLECTION).placed) == 1


@pytest.mark.parametrize(("after", "is_split"), [("end", True), ("begin", False), (None, False)])
def test_a_beam_over_the_barline_is_looked_for_in_the_next_bar(after, is_split):
    first, last = (
        note("C5", type_="eighth").replace("</note>", beam(state) if state else "</note>")
        for state in ("begin", after)
    )
    data = score(first + note(type_="eighth"), last, divisions=2)
    if is_split:
        assert refusal(data, at(1, 1.5)).code == "address.beam"
    else:
        assert len(place(data, [at(1, 1.5)], COLLECTION).placed) == 1


def test_a_beam_over_the_barline_is_looked_for_in_the_bar_before():
    first, last = (
        note("C5", type_="eighth").replace("</note>", beam(state)) for state in ("begin", "end")
    )
    data = score(first, note(type_="eighth") + last, divisions=2)
    assert refusal(data, at(2)).code == "address.beam"


def test_a_rest_after_a_beam_is_free():
    eighths = (
        note("C5", type_="eighth").replace("</note>", beam("begin"))
        + note("C5", type_="eighth").replace("</note>", beam("end"))
        + note(quarters=2)
    )
    result = place(score(eighths, divisions=2), [at(1, 2)], COLLECTION)
    assert len(result.placed) == 1


TRIPLET = (
    "<time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes>"
    "</time-modification></note>"
)


def test_a_rest_that_no_note_value_fits():
    error = refusal(score(note(type_=None) * 3, divisions=3), at(1))
    assert error.code == "rhythm.rest"
    assert "rests with note values" in str(error)
    assert "1/3" in str(error)


def test_a_triplet_rest_without_a_value_gets_the_one_that_its_tuplet_tells():
    rest = note(type_=None).replace("</note>", TRIPLET)
    result = place(score(rest * 3, divisions=3), [at(1)], COLLECTION)
    (chord, *_) = events(result.data)
    assert [each.findtext("type") for each in chord.notes] == ["eighth"] * 3
    assert chord.duration_quarters == Fraction(1, 3)


def test_a_triplet_rest_with_a_value_becomes_a_triplet_chord():
    rest = note(type_="eighth").replace("</note>", TRIPLET)
    result = place(score(rest * 3, divisions=3), [at(1, "1+1/3")], COLLECTION)
    assert result.after.count("<time-modification>") == 3 + 2


@pytest.mark.parametrize(
    ("data", "code", "words"),
    [
        (b"%PDF-1.7 \n", "score.not-xml", "PDF"),
        (b"", "xml.empty", "empty"),
        (b"<score-partwise><part", "xml.malformed", "line 1"),
        (b"<html><body/></html>", "score.not-musicxml", "<html>"),
        (b"<score-partwise/>", "score.no-parts", "no parts"),
        (RESTS.replace(b"<divisions>1</divisions>", b""), "score.no-divisions", "<divisions>"),
        (RESTS.replace(b"<divisions>1<", b"<divisions>0<"), "score.number", "'0'"),
        (RESTS.replace(b"<divisions>1<", b"<divisions>one<"), "score.number", "'one'"),
        (RESTS.replace(b"<duration>1</duration>", b"", 1), "score.no-duration", "<duration>"),
        (RESTS.replace(b"<rest/>", b"<chord/><rest/>", 1), "score.lone-chord", "<chord/>"),
        (
            RESTS.replace(b"<note>", b"<backup><duration>1</duration></backup><note>", 1),
            "score.backup",
            "before the bar's start",
        ),
        (RESTS.replace(b"<chromatic>-9</chromatic>", b""), "score.transpose", "<chromatic>"),
    ],
)
def test_scores_that_cannot_be_read(data, code, words):
    error = refusal(data, at(1))
    assert isinstance(error, InputError)
    assert error.code == code
    assert words in str(error)


def test_a_doubled_part_would_sound_twice():
    data = RESTS.replace(b"</chromatic>", b"</chromatic><double/>")
    error = refusal(data, at(1))
    assert error.code == "part.doubled"


def test_faults_of_one_bar_name_part_and_bar():
    error = refusal(RESTS.replace(b"<duration>1</duration>", b"", 1), at(1))
    assert "P1 (Alto Saxophone)" in str(error)
    assert error.where.bar == "1"


PLAN = """\
reedchord: plan
version: 1
placements:
  - {sonority: heron, part: P1, bar: 1}
  - {sonority: hern, part: P1, bar: 1, beat: 2}
  - {sonority: egret, part: P7, bar: 1}
  - {sonority: egret, part: P1, bar: 99}
  - {sonority: egret, part: P1, bar: 2, beat: 9}
  - {sonority: bittern, part: P1, bar: 2}
  - {sonority: egret, part: P1, bar: 1}
"""


def test_all_that_is_wrong_with_a_plan_is_told_at_once_with_its_lines():
    with pytest.raises(SeveralErrors) as caught:
        place(RESTS, parse_plan(PLAN, "swamp.yaml").placements, COLLECTION)
    assert {(error.where.line, error.code) for error in caught.value.errors} == {
        (5, "collection.no-such-sonority"),
        (6, "score.no-such-part"),
        (7, "score.no-such-bar"),
        (8, "address.no-such-beat"),
        (9, "part.other-saxophone"),
        (10, "placement.twice"),
    }
    assert {error.where.path for error in caught.value.errors} == {"swamp.yaml"}


def test_a_refused_wish_still_counts_as_one_of_two_at_a_place():
    with pytest.raises(SeveralErrors) as caught:
        place(RESTS, [at(1, 1, "bittern"), at(1)], COLLECTION)
    assert [error.code for error in caught.value.errors] == [
        "part.other-saxophone",
        "placement.twice",
    ]


def test_an_error_is_a_request_s_or_a_file_s():
    assert isinstance(refusal(RESTS, at(9)), RequestError)
    assert refusal(RESTS, (at(9), Where(path="plan.yaml", line=3))).where.line == 3


@pytest.mark.parametrize("more", ["<rest/>", "<pitch><step>C</step><octave>4</octave></pitch>"])
def test_a_note_that_says_twice_what_it_is(more):
    error = refusal(score(note("C5", more=more)), at(1))
    assert error.code == "address.unclear-note"
    assert "bar 1, beat 1" in str(error)

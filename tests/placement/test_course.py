"""Sonorities that unfold: tones enter and leave one by one, or one leads the others."""

from fractions import Fraction

import pytest

from reedchord.collection import Collection
from reedchord.errors import ReedchordError
from reedchord.musicxml.document import read_score
from reedchord.placement.place import place
from reedchord.placement.record import read_record
from reedchord.placement.strip import strip
from samples import BAR_REST, COLLECTION, HERON, at, events, note, score, shown
from truth.engraving import engraved
from truth.musicxml_schema import schema_errors
from truth.sounding_strands import Strand, sounding_strands

BARS = score(BAR_REST.format(4), BAR_REST.format(4), BAR_REST.format(4))
ORDER = [2, 1, 3]
LOW, MIDDLE, HIGH = Fraction(64), Fraction(141, 2), Fraction(80)


def placed(*wishes, data=BARS, collection=COLLECTION):
    """Place, and hold the result against what always holds."""
    result = place(data, wishes, collection)
    assert schema_errors(result.data) == schema_errors(data)
    assert strip(result.data).data == data
    assert place(result.data, wishes, collection).data == result.data
    return result


def refusal(wish, data=BARS):
    with pytest.raises(ReedchordError) as caught:
        place(data, [wish], COLLECTION)
    return caught.value


def strands(data):
    """Return begin, length and pitch of every tone as music21 joins its ties."""
    return {(one.onset_quarters, one.quarters, one.pitch) for one in sounding_strands(data)}


def test_tones_enter_in_the_given_order_and_are_tied_on():
    result = placed(at(1, build_up=True, order=ORDER))
    assert strands(result.data) == {(0, 4, MIDDLE), (1, 3, LOW), (2, 2, HIGH)}
    chords = events(result.data)
    assert [shown(chord) for chord in chords] == [["Bqf4"], ["E4", "Bqf4"], ["E4", "Bqf4", "G#5"]]
    assert [len(list(chord.first.iter("accidental"))) for chord in chords] == [1, 1, 0]
    assert engraved(result.data).notehead_count == 6
    assert engraved(result.data).warnings == ()


def test_the_record_knows_the_order():
    known = HERON.model_copy(update={"build_up": (3, 1, 2)})
    result = placed(at(1, build_up=True), collection=Collection({known.id: known}, {}, "samples"))
    assert strands(result.data) == {(0, 4, HIGH), (1, 3, LOW), (2, 2, MIDDLE)}
    error = refusal(at(1, build_up=True))
    assert error.code == "course.order"
    assert "names tones none" in str(error)
    assert "--order" in str(error)


def test_tones_leave_the_last_to_enter_first():
    result = placed(at(1, fade=True, order=ORDER, lasting="breve"))
    assert strands(result.data) == {(0, 8, MIDDLE), (0, 6, LOW), (0, 4, HIGH)}


def test_tones_enter_and_leave_over_barlines():
    result = placed(at(1, 3, build_up=True, fade=True, order=ORDER, lasting="breve"))
    assert strands(result.data) == {
        (2, 8, MIDDLE),
        (3, 6, LOW),
        (4, 4, HIGH),
    }


def test_steps_may_be_given_and_the_whole_takes_what_is_left():
    short = placed(at(1, build_up=True, order=ORDER, steps=["eighth", "quarter"]))
    assert strands(short.data) == {
        (0, 4, MIDDLE),
        (Fraction(1, 2), Fraction(7, 2), LOW),
        (Fraction(3, 2), Fraction(5, 2), HIGH),
    }
    every = placed(at(1, build_up=True, order=ORDER, steps=["eighth", "quarter", "half+eighth"]))
    assert strands(every.data) == strands(short.data)


def test_equal_steps_where_note_values_allow_it():
    data = score(BAR_REST.format(3), BAR_REST.format(3), beats=3)
    result = placed(at(1, build_up=True, order=ORDER), data=data)
    assert strands(result.data) == {(0, 3, MIDDLE), (1, 2, LOW), (2, 1, HIGH)}


def test_one_tone_is_brought_out_then_the_whole_then_the_one():
    result = placed(at(1, bring_out=True))
    assert strands(result.data) == {(0, 4, MIDDLE), (1, 2, LOW), (1, 2, HIGH)}
    assert "<words>M1 bring out" in result.after
    other = placed(at(1, bring_out=True, emphasised=1))
    assert strands(other.data) == {(0, 4, LOW), (1, 2, MIDDLE), (1, 2, HIGH)}


def test_only_wanted_tones_enter():
    result = placed(at(1, build_up=True, tones=[1, 3], order=[3, 1]))
    assert strands(result.data) == {(0, 4, HIGH), (2, 2, LOW)}


def test_what_hangs_on_the_sonority_hangs_where_it_helps():
    """The label and fingering where it begins, the cents where the whole chord stands."""
    result = placed(at(1, build_up=True, order=ORDER))
    first, second, whole = events(result.data)
    assert first.first.findtext("footnote").startswith("M1:")
    assert first.first.find("notations/technical/fingering") is not None
    assert first.first.find("lyric") is None
    assert second.first.find("notations/technical") is None
    assert [text.text for text in whole.first.iterfind("lyric/text")] == ["−12", "+14", "−19"]
    assert "<words>M1 build up" in result.after
    assert place(
        BARS, [at(1, build_up=True, order=ORDER, manner="very soft")], COLLECTION
    ).after.count("M1 very soft, build up")


def test_a_note_and_its_ties_may_be_built_up():
    start = note("C5", 4, type_="whole", more='<tie type="start"/>')
    stop = note("C5", 2, type_="half", more='<tie type="stop"/>')
    data = score(start, stop + note("D5", 2, type_="half"))
    result = placed(at(1, build_up=True, order=ORDER), data=data)
    assert strands(result.data) == {
        (0, 6, MIDDLE),
        (2, 4, LOW),
        (4, 2, HIGH),
        (6, 2, Fraction(74)),
    }


def test_a_tied_note_without_a_voice_keeps_its_children_in_order():
    tied = note("C5", 2, type_="half", more='<tie type="start"/>')
    tied += note("C5", 2, type_="half", more='<tie type="stop"/>')
    placed(at(1, bring_out=True), data=score(tied.replace("<voice>1</voice>", "")))


def test_dynamics_stand_before_the_chords_that_they_belong_to():
    wish = at(1, build_up=True, fade=True, order=ORDER, dynamics="pp < f > pp", lasting="breve")
    result = placed(wish)
    kinds = ("<pp/>", 'type="crescendo"', "<f/>", 'type="diminuendo"')
    places = [result.after.index(kind) for kind in kinds]
    assert places == sorted(places)
    assert result.after.count('<wedge type="stop"/>') == 2
    assert '</note><direction placement="below"' not in result.after.rpartition("</note>")[2]
    assert "<mf/>" in placed(at(1, dynamics="mf")).after


def test_steps_may_be_members_of_a_triplet():
    change = "<actual-notes>3</actual-notes><normal-notes>2</normal-notes>"
    member = note(type_="eighth").replace(
        "</note>", f"<time-modification>{change}</time-modification></note>"
    )
    data = score(member * 3 + note(quarters=9, type_="half"), divisions=3)
    wish = at(1, lasting="quarter", build_up=True, order=ORDER, steps=["1/12", "1/12"])
    third = Fraction(1, 3)
    found = strands(placed(wish, data=data).data)
    assert found == {(0, 1, MIDDLE), (third, 2 * third, LOW), (2 * third, third, HIGH)}
    uneven = at(1, lasting="quarter", build_up=True, order=ORDER)
    assert refusal(uneven, data=data).code == "rhythm.step-inside"


def test_dynamics_of_the_score_stay_and_are_told():
    loud = "<direction><direction-type><dynamics><ff/></dynamics></direction-type></direction>"
    data = score(loud + BAR_REST.format(4))
    result = placed(at(1, dynamics="p"), data=data)
    assert any("ff stands here already and stays beside p" in told for told in result.warnings)
    assert loud in result.after


@pytest.mark.parametrize(
    ("fields", "code", "words"),
    [
        ({"build_up": True, "tones": [2]}, "course.one-tone", "at least two"),
        ({"build_up": True, "bring_out": True}, "course.two-ways", "one of them"),
        ({"order": [1, 2, 3]}, "course.order", "leave --order out"),
        ({"steps": ["half"]}, "course.steps", "leave --steps out"),
        ({"build_up": True, "order": [1, 2]}, "course.order", "1, 2, 3"),
        ({"build_up": True, "order": [1, 2, 2]}, "course.order", "once"),
        ({"bring_out": True, "steps": ["half", "half"]}, "course.steps", "none are left"),
        ({"bring_out": True, "steps": ["half"] * 3}, "course.steps", "Give 2 steps"),
        ({"dynamics": "pp < f"}, "course.dynamics", "room for 1"),
        ({"build_up": True, "order": [1, 2, 3], "dynamics": "p < f > p"}, "course.dynamics", "two"),
    ],
)
def test_courses_that_make_no_sense(fields, code, words):
    error = refusal(at(1, **fields))
    assert error.code == code
    assert words in str(error)
    assert "part P1 (Alto Saxophone), bar 1, beat 1" in str(error)


def test_nothing_can_be_brought_out_of_a_sonority_without_emphasis():
    assert refusal(at(1, name="egret", bring_out=True)).code == "course.nothing-to-bring-out"


def test_a_step_cannot_begin_inside_a_beamed_note():
    beams = "".join(
        note("C5", type_="eighth").replace("</note>", f'<beam number="1">{way}</beam></note>')
        for way in ("begin", "end")
    )
    data = score(
        beams + note(quarters=6, type_="half").replace("</note>", "<dot/></note>"), divisions=2
    )
    error = refusal(at(1, build_up=True, order=ORDER), data=data)
    assert error.code == "rhythm.step-inside"
    over = at(1, build_up=True, order=ORDER, lasting="quarter", steps=["16th", "16th"])
    assert refusal(over, data=data).code == "lasting.note-in-the-way"


def test_a_build_up_is_found_again_in_an_edited_score():
    data = score(BAR_REST.format(4), note("C5") * 4)
    built = place(data, [at(1, build_up=True, order=ORDER)], COLLECTION).data
    edited = built.replace(b"<step>C</step>", b"<step>D</step>", 1)
    again = place(edited, [at(1, build_up=True, order=ORDER)], COLLECTION)
    assert strands(again.data) >= {(0, 4, MIDDLE), (1, 3, LOW), (2, 2, HIGH)}
    taken = strip(edited)
    assert read_record(read_score(taken.data)) is None
    assert strands(taken.data) == {(4 + beat, 1, 74 if not beat else 72) for beat in range(4)}


def test_a_strand_is_one_attack():
    """The oracle itself: two notes of one pitch without a tie are two strands."""
    data = score(note("C5") * 2 + note() * 2)
    assert sounding_strands(data) == [
        Strand(Fraction(0), Fraction(1), Fraction(72)),
        Strand(Fraction(1), Fraction(1), Fraction(72)),
    ]

"""Sonorities that last as long as is said: in rests, over barlines, on part of a note."""

from fractions import Fraction
from itertools import pairwise

import pytest

from reedchord.errors import ReedchordError, SeveralErrors
from reedchord.musicxml.document import read_score
from reedchord.placement.place import place
from reedchord.placement.strip import strip
from samples import ALTO, BAR_REST, COLLECTION, RESTS, at, events, note, score, shown
from truth.engraving import engraved
from truth.musicxml_schema import schema_errors
from truth.sounding_strands import Strand, sounding_strands

BARS_OF_REST = score(BAR_REST.format(4), BAR_REST.format(4), BAR_REST.format(4))
HERON = ["E4", "Bqf4", "G#5"]


def written(data, bar=1, voice="1"):
    """Return each rest (r) or chord (c) of a voice with its note value, `~` before a tie."""
    return " ".join(
        ("r" if event.is_rest else "c")
        + (event.first.findtext("type") or "bar")
        + "." * len(event.first.findall("dot"))
        + ("~" if event.is_tied("start") else "")
        for event in events(data, bar)
        if event.voice == voice
    )


def placed(data, *wishes):
    """Place, and hold the result against what always holds."""
    result = place(data, wishes, COLLECTION)
    assert schema_errors(result.data) == schema_errors(data)
    assert strip(result.data).data == data
    assert place(result.data, wishes, COLLECTION).data == result.data
    return result


def refusal(data, *wishes):
    with pytest.raises(ReedchordError) as caught:
        place(data, wishes, COLLECTION)
    return caught.value


@pytest.mark.parametrize(
    ("beat", "lasting", "expected"),
    [
        ("1", "quarter", "cquarter rquarter rhalf"),
        ("1", "half", "chalf rhalf"),
        ("2", "half", "rquarter chalf rquarter"),
        ("2", "half.", "rquarter chalf."),
        ("3", "3/8", "rhalf cquarter. reighth"),
        ("1.5", "eighth", "reighth ceighth rquarter rhalf"),
        ("2.5", "half+eighth", "rquarter reighth ceighth~ chalf"),
        ("1", "half..", "chalf~ cquarter. reighth"),
        ("4.75", "16th", "rhalf rquarter reighth r16th c16th"),
        ("1", "to bar 1 beat 4", "chalf. rquarter"),
        ("3", "to bar 2", "rhalf chalf"),
    ],
)
def test_part_of_a_bar_of_rest(beat, lasting, expected):
    result = placed(BARS_OF_REST, at(1, beat, lasting=lasting))
    assert written(result.data) == expected
    assert written(result.data, 2) == "rbar"


def test_rests_that_follow_are_used():
    result = placed(RESTS, at(1, 2, lasting="half"))
    assert written(result.data) == "rquarter chalf rquarter"
    assert result.record.placements[0].duration_quarters == "2"


def test_barlines_are_tied_over():
    result = placed(BARS_OF_REST, at(1, 4, lasting="to bar 3 beat 2"))
    assert [written(result.data, bar) for bar in (1, 2, 3)] == [
        "rhalf rquarter cquarter~",
        "cwhole~",
        "cquarter rquarter rhalf",
    ]
    # music21 joins the ties by itself.
    assert sounding_strands(result.data) == [
        Strand(Fraction(3), Fraction(6), Fraction(pitch))
        for pitch in (64, Fraction(141, 2), Fraction(80))
    ]
    assert engraved(result.data).notehead_count == 9


def test_two_sonorities_share_one_bar_of_rest():
    result = placed(
        BARS_OF_REST, at(1, 1, lasting="half"), at(1, 3, name="egret", lasting="quarter")
    )
    assert written(result.data) == "chalf cquarter rquarter"
    assert [shown(event) for event in events(result.data)[:2]] == [HERON, ["C#4", "A4"]]


def test_nothing_comes_between_the_notes_of_a_chord():
    """MusicXML 4.0, element chord: the notes of a chord follow one another."""
    data = score(note("C5", 2, type_="half") + note("D5", 2, type_="half"))
    result = placed(data, at(1, 1, lasting="quarter"), at(1, 3))
    bar = read_score(result.data).parts[0].bars[0].element
    tags = [[child.tag, child.find("chord") is not None] for child in bar.iterchildren("*")]
    assert all(before == "note" for (before, _), (_, joins) in pairwise(tags) if joins)


def test_the_length_that_is_there_changes_only_the_record():
    for lasting in ("quarter", "to bar 1 beat 3"):
        said = place(RESTS, [at(1, 2, lasting=lasting)], COLLECTION)
        plain = place(RESTS, [at(1, 2)], COLLECTION)
        assert events(said.data) == events(plain.data)


def test_a_long_note_is_shortened_and_that_is_told():
    data = score(note("C5", 4, type_="whole"), note())
    result = placed(data, at(1, lasting="quarter"))
    assert written(result.data) == "cquarter rquarter rhalf"
    assert "3 quarter notes, becomes rests" in result.warnings[0]


def test_a_note_is_lengthened_by_the_rests_after_it():
    result = placed(score(note("C5") + note() + note("D5") + note()), at(1, lasting="half"))
    assert written(result.data) == "chalf cquarter rquarter"


def test_a_chain_of_ties_is_shortened_over_a_barline():
    start = note("C5", 4, type_="whole", more='<tie type="start"/>')
    stop = note("C5", 2, type_="half", more='<tie type="stop"/>')
    data = score(start, stop + note("D5", 2, type_="half"))
    result = placed(data, at(1, lasting="half"))
    assert [written(result.data, bar) for bar in (1, 2)] == ["chalf rhalf", "rhalf chalf"]
    assert b"<tie " not in result.data
    marked = data.replace(b"<step>D", b"<step>D").replace(
        stop.encode(), stop.replace("</note>", "<notations><fermata/></notations></note>").encode()
    )
    assert refusal(marked, at(1, lasting="half")).code == "lasting.marks"


def test_no_other_note_is_taken():
    data = score(note() * 2 + note("C5") + note())
    error = refusal(data, at(1, lasting="half."))
    assert error.code == "lasting.note-in-the-way"
    assert "a note begins on bar 1, beat 3" in str(error)
    assert "to bar 1 beat 3" in str(error)
    grace = note("B4").replace("<note>", "<note><grace/>").replace("<duration>1</duration>", "")
    with_grace = score(note() + grace + note() * 3)
    assert "a grace note begins" in str(refusal(with_grace, at(1, lasting="half")))
    assert written(placed(with_grace, at(1, 2, lasting="half")).data) == "rquarter chalf rquarter"


@pytest.mark.parametrize(
    ("wish", "code"),
    [
        (at(3, 4, lasting="half"), "lasting.past-end"),
        (at(2, 2, lasting="to bar 1 beat 3"), "lasting.end"),
        (at(2, 2, lasting="to bar 3 beat 9"), "lasting.end"),
        (at(2, 2, lasting="to bar 30"), "score.no-such-bar"),
        (at(2, 2, lasting="1/3"), "rhythm.no-value"),
        (at(2, 1, grace=1), "address.no-such-grace"),
    ],
)
def test_what_cannot_last_so(wish, code):
    error = refusal(RESTS, wish)
    assert error.code == code
    assert "part P1 (Alto Saxophone), bar" in str(error)


def test_a_voice_that_stops_is_no_place_to_sound():
    two_quarters = score(note() * 2 + "<forward><duration>2</duration></forward>" + note("C5"))
    error = refusal(two_quarters, at(1, 2, lasting="half"))
    assert error.code == "lasting.gap"
    assert "bar 1, beat 3" in str(error)


def test_the_middle_of_a_rest_needs_a_length():
    error = refusal(BARS_OF_REST, at(1, 2))
    assert error.code == "address.inside"
    assert "--for half" in str(error)


def test_placements_that_overlap_are_told_with_their_plan_lines():
    error = refusal(BARS_OF_REST, at(1, 1, lasting="half"), at(1, 2, name="egret", lasting="half"))
    assert error.code == "placement.overlap"
    assert "heron, placed on bar 1, beat 1, still sounds here" in str(error)
    earlier = place(BARS_OF_REST, [at(1, 1, lasting="half")], COLLECTION)
    assert refusal(earlier.data, at(1, 2, lasting="half")).code == "placement.overlap"
    with pytest.raises(SeveralErrors):
        place(
            BARS_OF_REST,
            [at(1, 1), at(1, 2, lasting="half"), at(2, 3, lasting="1/3")],
            COLLECTION,
        )


def test_a_changed_length_is_as_if_placed_anew():
    long = place(BARS_OF_REST, [at(1, 2, lasting="to bar 2 beat 2")], COLLECTION).data
    changed = place(long, [at(1, 2, lasting="eighth")], COLLECTION).data
    assert changed == place(BARS_OF_REST, [at(1, 2, lasting="eighth")], COLLECTION).data


def test_divisions_change_for_the_new_notes_alone():
    data = score(note() * 4, note("C5") * 4)
    result = placed(data, at(1, "2.25", lasting="eighth."))
    text = result.after
    # The other durations of the score still count in quarters.
    assert text.count("<divisions>") == 3
    assert text.index("<divisions>4<") < text.rindex("<divisions>1<")
    assert written(result.data) == "rquarter r16th ceighth. rquarter rquarter"
    assert text.count("<duration>1</duration>") >= 7
    assert [strand for strand in sounding_strands(result.data) if strand.pitch == 64] == [
        Strand(Fraction(5, 4), Fraction(3, 4), Fraction(64))
    ]
    assert engraved(result.data).warnings == ()


def test_the_other_voice_stays_where_it_is():
    low = note("C4", 4, type_="whole").replace("<voice>1", "<voice>2")
    back = "<backup><duration>4</duration></backup>"
    data = score(note(quarters=4, type_="whole") + back + low)
    result = placed(data, at(1, "1.5", voice=1, lasting="quarter"))
    assert written(result.data) == "reighth cquarter reighth rhalf"
    assert written(result.data, voice="2") == "cwhole"
    assert any("some readers misplace that voice" in told for told in result.warnings)
    # Voice 2 begins with the bar for music21 too, though divisions changed before it.
    assert Strand(Fraction(0), Fraction(4), Fraction(60)) in sounding_strands(result.data)


def test_directions_between_rests_stay_at_their_moments():
    words = "<direction><direction-type><words>here</words></direction-type></direction>"
    data = score(note() + words + note() + note() * 2)
    result = placed(data, at(1, lasting="half"))
    assert written(result.data) == "cquarter~ cquarter rquarter rquarter"
    first, second = (result.after.index("<words>M1"), result.after.index("<words>here"))
    assert first < result.after.index('id="rc-1-3"') < second < result.after.index('id="rc-1-4"')


def test_a_timewise_score_is_edited_in_place():
    bars = "".join(
        f'<measure number="{number}"><part id="P1">{inside}</part></measure>'
        for number, inside in ((1, ATTRIBUTES + BAR_REST.format(4)), (2, BAR_REST.format(4)))
    )
    data = (
        '<score-timewise version="4.0"><part-list><score-part id="P1"><part-name>Alto Saxophone'
        f"</part-name></score-part></part-list>{bars}</score-timewise>"
    ).encode()
    result = place(data, [at(1, 3, lasting="whole")], COLLECTION)
    assert [written(result.data, bar) for bar in (1, 2)] == ["rhalf chalf~", "chalf rhalf"]
    assert strip(result.data).data == data


ATTRIBUTES = (
    "<attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time>"
    f"{ALTO}</attributes>"
)
TRIPLET = (
    "<time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes>"
    "</time-modification>"
)


def triplet(pitch="", mark=""):
    more = f"<notations>{mark}</notations>" if mark else ""
    return note(pitch, type_="eighth").replace("</note>", f"{TRIPLET}{more}</note>")


def test_members_of_a_tuplet_are_tied_and_keep_their_bracket():
    bar = (
        triplet(mark='<tuplet type="start" bracket="yes"/>')
        + triplet()
        + triplet("C5", '<tuplet type="stop"/>')
        + note(quarters=9, type_="half").replace("</note>", "<dot/></note>")
    )
    data = score(bar, divisions=3)
    result = placed(data, at(1, lasting="1/6"))
    chords = events(result.data)
    assert [event.duration_quarters for event in chords] == [Fraction(1, 3)] * 3 + [3]
    assert [event.is_tied("start") for event in chords] == [True, False, False, False]
    assert result.after.count("<tuplet ") == 2
    # Three members of three notes, two of them tied: two heads a tone and the last note.
    assert engraved(result.data).notehead_count == 7
    assert refusal(data, at(1, lasting="eighth")).code == "lasting.divides"
    assert refusal(data, at(1, "1+1/6", lasting="1/24")).code == "lasting.divides"


def test_a_tuplet_goes_on_into_a_plain_rest():
    bar = triplet("C5") + triplet("D5") + triplet() + note(quarters=9, type_="half")
    data = score(bar.replace("<type>half</type>", "<type>half</type><dot/>"), divisions=3)
    result = placed(data, at(1, "1+2/3", lasting="to bar 1 beat 3"))
    assert written(result.data) == "ceighth ceighth ceighth~ cquarter rhalf"


def beamed(pitch, state):
    return note(pitch, type_="eighth").replace("</note>", f'<beam number="1">{state}</beam></note>')


def test_beams_stay_whole():
    bar = beamed("C5", "begin") + beamed("D5", "end") + note(quarters=6, type_="half")
    data = score(bar.replace("<type>half</type>", "<type>half</type><dot/>"), divisions=2)
    assert refusal(data, at(1, lasting="16th")).code == "lasting.divides"
    longer = placed(data, at(1, 1.5, lasting="to bar 1 beat 3"))
    assert written(longer.data) == "ceighth ceighth~ cquarter rhalf"


def test_a_rest_of_ours_keeps_its_line():
    fixed = note(quarters=4, type_="whole").replace(
        "<rest/>",
        "<rest><display-step>B</display-step><display-octave>4</display-octave></rest>",
    )
    result = placed(score(fixed), at(1, 2, lasting="quarter"))
    assert result.after.count("<display-step>B") == 2
    assert written(result.data) == "rquarter cquarter rhalf"


def test_a_change_of_transposition_ends_a_sonority():
    data = score(
        BAR_REST.format(4),
        "<attributes><transpose><chromatic>-2</chromatic></transpose></attributes>"
        + BAR_REST.format(4),
    )
    error = refusal(data, at(1, 3, lasting="whole"))
    assert error.code == "lasting.transposition"
    assert ALTO  # the part begins as an alto's


def test_a_cue_is_for_the_eye():
    cue = note("C5").replace("<note>", "<note><cue/>")
    error = refusal(score(note() + cue + note() * 2), at(1, 2))
    assert error.code == "address.cue"
    assert "for the eye only" in str(error)


def test_taken_out_of_an_edited_score_the_rest_is_whole_again():
    data = score(BAR_REST.format(4), note("C5") * 4)
    placed_once = place(data, [at(1, 2, lasting="half.")], COLLECTION).data
    edited = placed_once.replace(b"<step>C<", b"<step>D<", 1)
    taken = strip(edited)
    assert written(taken.data) == "rbar"
    assert b"M1" not in taken.data

"""Two sonorities in turns, slurs from one to the next, and voices beside them."""

from fractions import Fraction

import pytest

from reedchord.collection import Collection
from reedchord.errors import ReedchordError
from reedchord.musicxml.document import read_score
from reedchord.pages.footnotes import footnotes_of
from reedchord.placement.held_plan import held_plan
from reedchord.placement.place import place
from reedchord.placement.plan import parse_plan
from reedchord.placement.standing import standing_placements
from reedchord.placement.strip import strip
from reedchord.placement.swap import swap
from samples import BAR_REST, BITTERN, COLLECTION, CRANE, EGRET, at, events, note, score, shown
from truth.engraving import engraved
from truth.musicxml_schema import schema_errors
from truth.partitura_reading import partitura_pitches
from truth.sounding_strands import sounding_strands

BARS = score(BAR_REST.format(4), BAR_REST.format(4), BAR_REST.format(4))
HERON_SHOWN, EGRET_SHOWN = ["E4", "Bqf4", "G#5"], ["C#4", "A4"]


def placed(*wishes, data=BARS, collection=COLLECTION):
    """Place, and hold the result against what always holds."""
    result = place(data, wishes, collection)
    assert schema_errors(result.data) == schema_errors(data)
    assert strip(result.data).data == data
    assert place(result.data, wishes, collection).data == result.data
    return result


def refusal(*wishes, data=BARS):
    with pytest.raises(ReedchordError) as caught:
        place(data, wishes, COLLECTION)
    return caught.value


def test_two_sonorities_alternate():
    result = placed(at(1, tremolo="egret"))
    first, second = events(result.data)
    assert [shown(first), shown(second)] == [HERON_SHOWN, EGRET_SHOWN]
    # Each looks like a whole note and lasts half of it: MusicXML 4.0, element tremolo.
    assert [first.duration_quarters, second.duration_quarters] == [2, 2]
    assert {one.findtext("type") for one in (*first.notes, *second.notes)} == {"whole"}
    assert result.after.count("<actual-notes>2</actual-notes>") == 5
    assert '<tremolo type="start">3</tremolo>' in result.after
    assert '<tremolo type="stop">3</tremolo>' in result.after


def test_both_have_their_label_fingering_and_cents():
    result = placed(at(1, tremolo="egret"))
    first, second = events(result.data)
    assert "<words>M1 tremolo" in result.after
    assert "<words>M2" in result.after
    for chord in (first, second):
        assert chord.first.find("notations/technical/fingering") is not None
    assert [text.text for text in second.first.iterfind("lyric/text")] == ["+25", "0"]
    assert second.first.findtext("footnote").startswith("with M1, M2:")
    assert "<words>M1 trill" in placed(at(1, trill="egret")).after


def test_readers_see_a_tremolo_of_two_notes():
    """verovio draws a tremolo between chords, music21 knows a spanner, partitura the pitches."""
    import music21
    import verovio

    result = placed(at(1, tremolo="egret"))
    toolkit = verovio.toolkit()
    toolkit.setInputFrom("xml")
    assert toolkit.loadData(result.after)
    assert toolkit.getMEI().count("<fTrem") == 1
    assert engraved(result.data).notehead_count == 5
    assert engraved(result.data).warnings == ()
    read = music21.converter.parseData(result.after, format="musicxml")
    assert len(list(read.recurse().getElementsByClass("TremoloSpanner"))) == 1
    plain = Collection({"crane": CRANE, "egret": EGRET}, {}, "samples")
    semitones = place(BARS, [at(1, name="crane", tremolo="egret")], plain)
    assert len(partitura_pitches(semitones.data)) == 4


def test_a_tremolo_goes_on_in_the_next_bar_without_ties():
    result = placed(at(1, 2, tremolo="egret", lasting="whole"))
    chords = [one for bar in (1, 2) for one in events(result.data, bar) if not one.is_rest]
    assert [shown(one) for one in chords] == [HERON_SHOWN, EGRET_SHOWN] * 2
    assert b"<tie " not in result.data
    assert result.after.count("<fingering") == 2
    tops = [one for one in sounding_strands(result.data) if one.pitch == 80]
    assert [(one.onset_quarters, one.quarters) for one in tops] == [
        (1, Fraction(3, 2)),
        (4, Fraction(1, 2)),
    ]


def test_flags_count_among_the_beams():
    result = placed(at(1, tremolo="egret", lasting="eighth"))
    assert '<tremolo type="start">2</tremolo>' in result.after


def test_both_stand_in_record_plan_and_footnotes():
    result = placed(at(1, tremolo="egret"), at(2))
    row, other = result.record.placements
    assert (row.label, row.other.label, other.label) == ("M1", "M2", "M1")
    assert set(result.record.sonorities) == {"heron", "egret"}
    notes = footnotes_of(result.data)
    assert [one.label for one in notes] == ["M1", "M2"]
    assert "bar 1, beat 1, tremolo with egret, tone 2 emphasised; " in notes.notes[0].places
    assert notes.notes[1].places == "Alto Saxophone, bar 1, beat 1, tremolo with heron"
    standing = standing_placements(read_score(result.data))
    assert [one.row.label for one in standing] == ["M1", "M2", "M1"]
    assert [len(one.notes) for one in standing] == [3, 2, 3]
    plan = parse_plan(held_plan(result.data))
    again = place(BARS, [wish for wish, _ in plan.placements], COLLECTION, plan.style)
    assert again.data == result.data


def test_labels_of_both_count_on_in_an_edited_score():
    data = score(BAR_REST.format(4), note("C5") * 4, BAR_REST.format(4))
    before = placed(at(1, tremolo="egret"), data=data).data
    edited = before.replace(b"<step>C</step><octave>5", b"<step>D</step><octave>5", 1)
    result = place(edited, [at(3, name="egret"), at(1, tremolo="egret")], COLLECTION)
    assert [row.label for row in result.record.placements] == ["M1", "M2"]
    assert set(result.record.sonorities) == {"heron", "egret"}


def test_a_swap_keeps_the_partner():
    result = placed(at(1, tremolo="egret"))
    swapped = swap(result.data, "heron", CRANE).placed
    assert [shown(one) for one in events(swapped.data)] == [["B3", "D#5"], EGRET_SHOWN]
    assert strip(swapped.data).data == BARS


def test_both_may_be_carried():
    both = Collection({"bittern": BITTERN, "egret": EGRET}, {}, "samples")
    result = placed(at(1, tremolo="bittern", name="egret", carry=True), collection=both)
    assert "tremolo: bittern" in held_plan(result.data)
    assert any("carried" in str(one.evidence) for one in result.record.sonorities.values())


def beamed(state):
    return note("C5", type_="eighth").replace("</note>", f'<beam number="1">{state}</beam></note>')


@pytest.mark.parametrize(
    ("fields", "code"),
    [
        ({"tremolo": "heron"}, "course.same-sonority"),
        ({"tremolo": "hern"}, "collection.no-such-sonority"),
        ({"tremolo": "bittern"}, "part.other-saxophone"),
        ({"tremolo": "egret", "trill": "egret"}, "course.two-ways"),
        ({"tremolo": "egret", "fade": True, "order": [1, 2, 3]}, "course.two-ways"),
        ({"tremolo": "egret", "dynamics": "p < f"}, "course.dynamics"),
    ],
)
def test_turns_that_make_no_sense(fields, code):
    assert refusal(at(1, **fields)).code == code


def test_no_tremolo_under_a_beam_or_on_a_grace_note():
    data = score(beamed("begin") + beamed("end") + note(quarters=6, type_="half"), divisions=2)
    assert refusal(at(1, tremolo="egret"), data=data).code == "rhythm.tremolo-inside"
    grace = note("D5").replace("<note>", "<note><grace/>").replace("<duration>1</duration>", "")
    data = score(grace + note("C5") * 4)
    assert refusal(at(1, grace=1, tremolo="egret"), data=data).code == "course.grace"


def test_old_versions_have_no_tremolo_of_two_notes():
    error = refusal(at(1, tremolo="egret"), data=BARS.replace(b"4.0", b"1.1"))
    assert error.code == "course.version"
    assert "MusicXML 1.1" in str(error)
    assert place(BARS.replace(b"4.0", b"1.1"), [at(1)], COLLECTION).placed


def test_a_tremolo_of_the_score_is_not_divided():
    mark = '<notations><ornaments><tremolo type="{}">3</tremolo></ornaments></notations></note>'
    plain = note("C5", 2, type_="whole")
    marked = [plain.replace("</note>", mark.format(way)) for way in ("start", "stop")]
    data = score("".join(marked))
    assert refusal(at(1, lasting="quarter"), data=data).code == "lasting.divides"
    assert placed(at(1), data=data).after.count("<tremolo") == 2


def slurs(result):
    """Return the ends of slurs of each chord, in order."""
    return [
        [(slur.get("type"), slur.get("number")) for slur in one.first.iterfind("notations/slur")]
        for bar in (1, 2, 3)
        for one in events(result.data, bar)
        if not one.is_rest
    ]


def test_a_slur_leads_to_the_next_sonority():
    result = placed(at(1, 3, lasting="half", slur=True), at(2, name="egret"))
    assert slurs(result) == [[("start", "1")], [("stop", "1")]]
    assert engraved(result.data).warnings == ()


def test_slurs_in_a_row_have_numbers_of_their_own():
    result = placed(
        at(1, 1, lasting="half", slur=True),
        at(1, 3, name="egret", lasting="half", slur=True),
        at(2, name="crane", lasting="half"),
    )
    assert slurs(result) == [
        [("start", "1")],
        [("stop", "1"), ("start", "2")],
        [("stop", "2")],
    ]


def test_slurs_of_the_score_keep_their_numbers():
    marked = note("C5", 4, type_="whole").replace(
        "</note>", '<notations><slur type="start" number="1"/></notations></note>'
    )
    data = score(BAR_REST.format(4), BAR_REST.format(4), marked)
    result = placed(at(1, slur=True), at(2), data=data)
    assert slurs(result)[:2] == [[("start", "2")], [("stop", "2")]]


def test_a_slur_needs_something_to_lead_to():
    error = refusal(at(1, lasting="half", slur=True), at(2, name="egret"))
    assert error.code == "slur.no-neighbour"
    assert "no sonority begins where heron ends" in str(error)
    assert refusal(at(3, slur=True)).code == "slur.no-neighbour"


def test_what_is_sung_in_another_voice_is_left_alone():
    """A held note beside the sonority: sung, or played by somebody else on the staff."""
    sung = note("C4", 4, type_="whole").replace("<voice>1", "<voice>2")
    sung = sung.replace("</note>", "<lyric><text>oo</text></lyric></note>")
    back = "<backup><duration>4</duration></backup>"
    data = score(note(quarters=4, type_="whole") + back + sung, BAR_REST.format(4))
    for fields in ({}, {"tremolo": "egret"}, {"build_up": True, "order": [2, 1, 3]}):
        result = placed(at(1, voice=1, **fields), data=data)
        assert sung in result.after
        held = [one for one in sounding_strands(result.data) if one.pitch == 60]
        assert [(one.onset_quarters, one.quarters) for one in held] == [(0, 4)]

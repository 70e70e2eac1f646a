"""What a chord gives up to a sonority, and what it keeps: a composer's marks do not vanish."""

import pytest

from reedchord.collection import Collection
from reedchord.errors import RequestError
from reedchord.placement.place import place
from samples import HERON, at, events, note, score
from truth.engraving import engraved

SLUR_START = '<notations><slur type="start" number="1"/></notations>'
SLUR_STOP = '<notations><slur type="stop" number="1"/></notations>'


def chord_note(pitch, quarters=1, more="", type_="quarter"):
    plain = note(pitch, quarters, type_=type_).replace("<note>", "<note><chord/>")
    return plain.replace("</note>", f"{more}</note>")


def with_marks(pitch, quarters=1, more="", type_="quarter"):
    return note(pitch, quarters, type_=type_).replace("</note>", f"{more}</note>")


def collection(sonority):
    return Collection({sonority.id: sonority}, {}, "samples")


def placed(data, *placements):
    return place(data, placements, collection(HERON))


def test_a_slur_from_an_upper_note_moves_to_the_chord():
    bar = note("C5") + chord_note("E5", more=SLUR_START) + with_marks("F5", more=SLUR_STOP)
    result = placed(score(bar + note("", 2, type_="half")), at(1))
    assert result.data.count(b'<slur type="start"') == 1
    assert engraved(result.data).warnings == ()


@pytest.mark.parametrize(
    "mark",
    [
        "<notations><articulations><accent/></articulations></notations>",
        "<notations><fermata/></notations>",
        '<lyric number="1"><text>ah</text></lyric>',
    ],
)
def test_marks_of_an_upper_note_stay(mark):
    bar = note("C5") + chord_note("E5", more=mark) + note("", 3, type_="half")
    result = placed(score(bar), at(1)).data.decode("utf-8")
    inside = mark.removeprefix("<notations>").removesuffix("</notations>")
    assert inside in result


def test_a_tie_that_leads_nowhere_is_not_multiplied():
    dangling = with_marks("C5", more='<notations><tied type="start"/></notations>')
    data = score(dangling + note("", 3, type_="half"))
    result = placed(data, at(1))
    assert result.data.count(b"<tied ") == data.count(b"<tied ")


def test_the_staff_of_the_note_decides_the_transposition():
    two = '<transpose number="2"><diatonic>-5</diatonic><chromatic>-9</chromatic></transpose>'
    on_staff_2 = note("C5", 4, type_="whole").replace("</note>", "<staff>2</staff></note>")
    data = score(on_staff_2, transpose=two)
    (event,) = events(placed(data, at(1)).data)
    (told,) = events(placed(data, at(1, staff="2")).data)
    assert event.pitches == told.pitches


def test_earlier_places_follow_a_record_that_was_corrected():
    data = score(note("", 4, type_="whole"), note("", 4, type_="whole"))
    first = placed(data, at(1)).data
    corrected = HERON.model_copy(update={"advice": "more air"})
    result = place(first, [at(2)], collection(corrected))
    assert any("follow the new one" in sentence for sentence in result.warnings)
    assert result.record.sonorities[HERON.id].advice == "more air"
    edited = first.replace(b"<beats>", b"<beats >")
    with pytest.raises(RequestError, match="another record") as refused:
        place(edited, [at(2)], collection(corrected))
    assert refused.value.code == "placement.other-record"


def test_a_chord_that_was_deleted_by_hand_is_forgotten():
    data = score(note("", 4, type_="whole"), note("", 4, type_="whole"))
    both = placed(data, at(1), at(2)).data.decode("utf-8")
    start = both.rindex("<direction ")
    end = both.rindex("</note>") + len("</note>")
    without = both[:start] + note("", 4, type_="whole") + both[end:]
    result = placed(without.encode("utf-8"), at(2))
    assert [row.wish.bar for row in result.record.placements] == ["@1", "@2"]
    assert len({row.number for row in result.record.placements}) == 2


def test_no_accidental_holds_beyond_the_barline_of_a_tie():
    """G sharp of the sonority is tied over; the G after it stays natural."""
    stop = note("C5", 2, type_="half", more='<tie type="stop"/>')
    start = note("C5", 4, type_="whole", more='<tie type="start"/>')
    result = placed(score(start, stop + note("G5", 2, type_="half")), at(1))
    assert not [sentence for sentence in result.warnings if "reads as" in sentence]


def test_ids_of_upper_notes_stay_with_the_chord():
    upper = chord_note("E5").replace("<note>", '<note id="mine">')
    result = placed(score(note("C5") + upper + note("", 3, type_="half")), at(1))
    assert result.data.count(b'id="mine"') == 1
    assert result.record.placements[0].ids[1] == "mine"

"""Chords of whole scores: which are looked at, what is taken, what is asked."""

import pytest

from reedchord.collection import Collection
from reedchord.errors import InputError, RequestError
from reedchord.matching.match_report import matched_data, matched_text
from reedchord.matching.match_score import apply, match_score, parse_choice
from reedchord.pages.footnotes import footnotes_of
from reedchord.placement.place import place
from reedchord.placement.strip import strip
from samples import COLLECTION, HERON, RESTS, at, events, note, score, sonority
from typed_chords import chord, fingering, typed_by_hand, words

HERONS = chord("E4", "B-4", "G#5")
TWIN = sonority("twin", "E4-25", "Bqf4", "G#5-20", fingering="left 1 2 3 | right 1 2 3")
TWINS = Collection({s.id: s for s in (*COLLECTION, TWIN)}, {}, "twins")


def taken(data, collection=COLLECTION, **fields):
    matched = match_score(data, collection, **fields)
    return [one.taken and one.taken.sonority.id for one in matched.chords]


def test_placements_typed_by_hand_are_told_again():
    wanted = [at(1, 2), at(2, 1, "egret"), at(3, 4, "crane")]
    typed = typed_by_hand(place(RESTS, wanted, COLLECTION).data)
    matched = match_score(typed, COLLECTION)
    assert [one.taken.sonority.id for one in matched.chords] == ["heron", "egret", "crane"]
    marked = apply(matched, COLLECTION)
    assert strip(marked.data).data == typed
    for bar in (1, 2, 3):
        assert [e.notes and e.pitches for e in events(marked.data, bar)] == [
            e.notes and e.pitches for e in events(typed, bar)
        ]


def test_sonorities_of_ours_are_passed_over():
    data = place(score(HERONS, note() * 4), [at(2)], COLLECTION).data
    assert taken(data) == ["heron"]
    marked = apply(match_score(data, COLLECTION), COLLECTION)
    with pytest.raises(RequestError, match="sonorities of ours already"):
        match_score(marked.data, COLLECTION)


def test_two_that_fit_are_asked_and_a_choice_decides():
    data = score(HERONS, HERONS)
    assert taken(data, TWINS) == [None, None]
    choice = parse_choice("bar 2 beat 1 = twin")
    assert taken(data, TWINS, choices=[choice]) == [None, "twin"]
    text = matched_text(match_score(data, TWINS))
    assert "--choose 'part P1 bar @1 beat 1 = heron'" in text
    typed = parse_choice("part P1 bar @1 beat 1 = heron")
    assert taken(data, TWINS, choices=[typed]) == ["heron", None]


@pytest.mark.parametrize(
    "beside",
    [
        lambda bar: words("twin") + bar,
        lambda bar: bar.replace("</note>", fingering("LH 123 RH 123") + "</note>", 1),
        lambda bar: bar.replace("</note>", "<lyric><text>twin</text></lyric></note>", 1),
    ],
)
def test_words_fingerings_and_lyrics_beside_a_chord_are_read(beside):
    assert taken(score(beside(HERONS)), TWINS) == ["twin"]


def test_a_single_note_counts_where_its_fingering_is_beside_it():
    one = note("E4", 4, type_="whole").replace(
        "</note>", fingering(HERON.fingering.short()) + "</note>"
    )
    data = score(one, note("E4", 4, type_="whole"))
    assert taken(data) == ["heron"]
    marked = apply(match_score(data, COLLECTION), COLLECTION)
    [row] = marked.record.placements
    assert (row.numbers, row.wish.as_written) == ((1,), True)
    assert strip(marked.data).data == data


def test_part_of_a_chain_of_ties_is_no_chord_of_its_own():
    first = HERONS.replace("</duration>", '</duration><tie type="start"/>')
    second = HERONS.replace("</duration>", '</duration><tie type="stop"/>')
    assert taken(score(first, second)) == ["heron"]


def test_cues_and_other_parts_are_not_looked_at():
    cue = HERONS.replace("<note>", "<note><cue/>").replace("<cue/><chord/>", "<cue/><chord/>")
    assert taken(score(cue, HERONS)) == ["heron"]
    with pytest.raises(RequestError, match="no part that says it is for a saxophone"):
        match_score(score(HERONS, name="Flute"), COLLECTION)


def test_a_part_can_be_said_to_be_a_saxophones():
    from reedchord.saxophones import FAMILY

    data = score(HERONS, name="Reed 1")
    matched = match_score(data, COLLECTION, parts=["Reed 1"], saxophone=FAMILY["alto"])
    marked = apply(matched, COLLECTION)
    assert strip(marked.data).data == data


def test_concert_pitch_is_read_as_it_sounds():
    # Written E4, B4 quarter-flat and G#5 on alto sound G3, D4 quarter-flat and B4.
    data = score(chord("G3", "D-4", "B4"), transpose="")
    assert taken(data) == ["heron"]
    assert apply(match_score(data, COLLECTION), COLLECTION).record.placements[0].is_concert


def test_grace_chords_are_found():
    grace = chord("E4", "B-4", "G#5", type_="eighth").replace("<note>", "<note><grace/>")
    grace = grace.replace("<duration>4</duration>", "")
    data = score(grace + note("C5", 4, type_="whole"))
    assert taken(data) == ["heron"]
    marked = apply(match_score(data, COLLECTION), COLLECTION)
    assert marked.record.placements[0].wish.grace == 1
    assert strip(marked.data).data == data


def test_footnotes_know_the_places():
    data = score(HERONS, note() * 4, HERONS)
    marked = apply(match_score(data, COLLECTION), COLLECTION)
    [entry] = footnotes_of(marked.data).notes
    assert entry.places == (
        "Alto Saxophone, bar 1, beat 1, tone 2 emphasised; bar 3, beat 1, tone 2 emphasised"
    )


def test_a_chord_of_nobody_is_a_question_to_the_player():
    text = matched_text(match_score(score(chord("C4", "C#4", "D4")), COLLECTION))
    assert "what is fingered here?" in text


def test_the_report_explains_every_note():
    text = matched_text(match_score(score(HERONS, chord("E4", "G#5", "C6")), COLLECTION))
    assert "2 chords: 1 told, 1 to ask about" in text
    assert "taken by itself: heron" in text
    assert "B4 −50¢ is tone 2, which lies +14¢ from it" in text
    assert "C6 is in addition: the nearest is tone 3, −412¢ from it" in text
    assert "tone 2, B4 −36¢, is not written" in text
    data = matched_data(match_score(score(HERONS), COLLECTION))
    assert data["chords"][0]["taken"] == "heron"
    assert [n["cents"] for n in data["chords"][0]["matches"][0]["notes"]] == [-19, 14, -12]


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("bar 1 = crane", "match.choice-other-notes"),
        ("bar 7 = heron", "match.choice-nothing"),
        ("bar 1 beat 2 = heron", "match.choice-nothing"),
        ("bar 1 = hern", "collection.no-such-sonority"),
        ("part P9 bar 1 = heron", "score.no-such-part"),
    ],
)
def test_choices_that_cannot_be(typed, code):
    with pytest.raises(RequestError) as error:
        match_score(score(HERONS), COLLECTION, choices=[parse_choice(typed)])
    assert error.value.code == code


def test_two_voices_need_a_voice():
    lower = chord("E4", "B-4", "G#5").replace("<voice>1", "<voice>2")
    data = score(HERONS + "<backup><duration>4</duration></backup>" + lower)
    with pytest.raises(RequestError, match="2 chords are meant"):
        match_score(data, TWINS, choices=[parse_choice("bar 1 = heron")])
    choice = parse_choice("bar 1 beat 1 voice 2 = heron")
    assert taken(data, TWINS, choices=[choice]) == [None, "heron"]
    assert "voice 2 = heron" in matched_text(match_score(data, TWINS))


@pytest.mark.parametrize("typed", ["", "bar 5", "heron", "bar = heron", "bar 1 beat = heron"])
def test_choices_that_are_none(typed):
    with pytest.raises(InputError, match="no choice of a sonority"):
        parse_choice(typed)


@pytest.mark.parametrize(
    ("typed", "fields"),
    [
        ("bar 5 beat 1 = heron", ("5", "heron", "1", None, None)),
        ("bar 5=heron", ("5", "heron", None, None, None)),
        (
            "part Alto Saxophone, bar 5, beat 2+1/3 = heron",
            ("5", "heron", "2+1/3", "Alto Saxophone", None),
        ),
        ("Bar @12 beat 1 voice 2 = heron", ("@12", "heron", "1", None, "2")),
    ],
)
def test_how_choices_are_typed(typed, fields):
    choice = parse_choice(typed)
    assert (choice.bar, choice.sonority, choice.beat, choice.part, choice.voice) == fields


def test_nothing_that_is_clear_cannot_be_applied():
    matched = match_score(score(HERONS), TWINS)
    with pytest.raises(RequestError, match="without asking"):
        apply(matched, TWINS)


def test_no_chord_at_all_is_told():
    with pytest.raises(RequestError, match="there is no chord in P1"):
        match_score(RESTS, COLLECTION)

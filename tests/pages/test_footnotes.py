"""Footnotes from a score: what appears, in its order, in words that print well."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from long_scores import long_score
from reedchord.errors import RequestError
from reedchord.fingering import Amount, Fingering
from reedchord.keywork import KEYS
from reedchord.pages.footnotes import footnotes_of
from reedchord.pages.footnotes_text import as_block, as_markdown, as_text
from reedchord.pitch_names import PitchNames
from reedchord.placement.place import place
from reedchord.reader import Reader, told_to
from reedchord.wording import NO_BREAK_SPACE, keys_unbroken, unbroken
from samples import COLLECTION, RESTS, at, score

THREE = place(
    RESTS, [at(1, 3, "egret"), at(2), at(3, 1, "egret"), at(3, 3, manner="slap")], COLLECTION
).data


@pytest.fixture(scope="module")
def long_notes():
    return footnotes_of(long_score(12))


def test_one_footnote_a_sonority_in_the_order_of_the_score():
    notes = footnotes_of(THREE)
    assert [(note.label, note.title) for note in notes] == [
        ("M1", "egret, alto saxophone"),
        ("M2", "heron, alto saxophone"),
    ]
    assert [note.places for note in notes] == [
        "Alto Saxophone, bar 1, beat 3; bar 3, beat 1",
        "Alto Saxophone, bar 2, beat 1, tone 2 emphasised; bar 3, beat 3, slap, tone 2 emphasised",
    ]


def test_the_block_has_a_line_a_sonority_in_the_signs_of_the_score():
    assert as_block(footnotes_of(THREE)) == (
        "M1 = octave | L 1 2 3 | R 1 ½2 - (invented)\nM2 = L 1 2 3 G♯ | R 1 2 3 low C (invented)\n"
    )


def test_lines_of_the_block_break_between_hands_and_never_inside_one(long_notes):
    lines = as_block(long_notes, 60).splitlines()
    assert max(map(len, lines)) <= 60
    assert "M3 = octave | L 1 2 3 bis front F palm D palm E♭ palm F low B♭" not in lines
    hands = [hand for line in lines for hand in line.strip().split(" | ")]
    assert "R 1 2 3 low C" in " ".join(hands)
    assert " ".join(as_block(long_notes, 60).split()) == " ".join(as_block(long_notes).split())


def test_a_block_too_narrow_for_a_hand_is_refused_with_what_it_needs(long_notes):
    with pytest.raises(RequestError) as narrow:
        as_block(long_notes, 20)
    needed = int("".join(filter(str.isdigit, narrow.value.hint)))
    assert needed > 20
    assert max(map(len, as_block(long_notes, needed).splitlines())) <= needed


def test_text_keeps_its_width_and_its_words(long_notes):
    narrow, wide = as_text(long_notes, 50), as_text(long_notes, 300)
    assert max(map(len, narrow.splitlines())) <= 50
    assert narrow.split() == wide.split()
    with pytest.raises(RequestError, match="too short"):
        as_text(long_notes, 39)


@pytest.mark.parametrize("writer", [as_text, as_markdown])
def test_the_style_of_pitch_names_is_said_before_the_first_pitch(writer):
    heron = place(RESTS, [at(1)], COLLECTION).data
    with told_to(Reader(pitch_names=PitchNames.GERMAN)):
        text = writer(footnotes_of(heron))
    assert text.index("H is B natural") < text.index("H4 −36¢")
    assert "Gis5" in text
    assert "♯" not in text
    english = writer(footnotes_of(heron))
    assert "B4 −36¢" in english
    assert "C4 is middle C" in english
    assert "H is" not in english


def test_the_title_of_the_score_heads_the_footnotes():
    assert footnotes_of(long_score(1)).heading == "Fingering footnotes: Low Water & Reeds"
    assert footnotes_of(THREE).heading == "Fingering footnotes"
    movement = score(
        "".join(["<note><rest/><duration>4</duration><voice>1</voice></note>"]),
        header="<movement-title>\n  Mist\n  </movement-title>",
    )
    assert footnotes_of(place(movement, [at(1)], COLLECTION).data).score_title == "Mist"


def test_rows_of_tones_are_of_about_one_length(long_notes):
    lengths = {len(note.tones): [len(row) for row in note.tone_rows] for note in long_notes}
    assert lengths[5] == [5]
    assert lengths[6] == [3, 3]
    assert lengths[7] == [4, 3]
    for note in long_notes:
        assert [tone for row in note.tone_rows for tone in row] == list(note.tones)


fingerings = st.dictionaries(st.sampled_from(list(KEYS)), st.sampled_from(list(Amount))).map(
    lambda pressed: Fingering(tuple(pressed.items()))
)


@given(fingerings)
def test_words_of_a_fingering_break_only_between_keys(fingering):
    words = keys_unbroken(fingering.words())
    assert words.replace(NO_BREAK_SPACE, " ") == fingering.words()
    for piece in words.split(" ")[:-1]:
        assert piece.endswith((",", ";")) or piece[-1].isdigit() or _ends_a_key(piece)


def _ends_a_key(piece):
    return piece.split(NO_BREAK_SPACE)[-1] in {"key", *(name.split()[-1] for name in KEYS)}


def test_a_line_never_ends_between_a_word_and_its_number():
    assert unbroken("bar 3, beat 1/2, p. 7, no. 4, B4 −36¢, quarter = 72").split(" ") == [
        f"bar{NO_BREAK_SPACE}3,",
        f"beat{NO_BREAK_SPACE}1/2,",
        f"p.{NO_BREAK_SPACE}7,",
        f"no.{NO_BREAK_SPACE}4,",
        f"B4{NO_BREAK_SPACE}−36¢,",
        f"quarter{NO_BREAK_SPACE}={NO_BREAK_SPACE}72",
    ]

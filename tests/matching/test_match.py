"""Chords against a collection: what may be meant, note by note, and when that is clear."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reedchord.collection import Collection
from reedchord.errors import RequestError, SeveralErrors
from reedchord.matching.match import Chord, Matcher, unambiguous
from reedchord.matching.match_text import fingering_in, told_by
from reedchord.pitch import Pitch, parse_pitch
from reedchord.saxophones import FAMILY
from samples import BITTERN, COLLECTION, CRANE, EGRET, HERON, sonority

ALTO, TENOR = FAMILY["alto"], FAMILY["tenor"]
TWIN = sonority("twin", "E4-25", "Bqf4", "G#5-20", fingering="left 1 2 3 | right 1 2 3")


def chord(*pitches, texts=(), saxophone=ALTO):
    return Chord(saxophone, tuple(map(parse_pitch, pitches)), tuple(texts))


def matches(of, *more, within=50):
    everything = {s.id: s for s in (*COLLECTION, *more)}
    return Matcher(Collection(everything, {}, "tests"), Fraction(within)).matches(of)


def test_the_tones_on_the_grid_are_told_with_their_cents():
    [best, *_] = matches(chord("E4", "Bqf4", "G#5"))
    assert best.sonority == HERON
    assert best.is_whole
    assert [(str(n.note), n.tone, n.cents) for n in best.notes] == [
        ("E4", 1, -19),
        ("B4-50", 2, 14),
        ("G#5", 3, -12),
    ]
    assert unambiguous([best]) == best


def test_a_chord_in_semitones_is_told_as_well():
    # The semitone grid shows 36 cents off as a natural.
    [best, *_] = matches(chord("E4", "B4", "G#5"))
    assert best.sonority == HERON
    assert best.is_whole


def test_what_is_missing_and_what_is_in_addition():
    [best, *_] = matches(chord("E4", "G#5", "C6"))
    assert best.sonority == HERON
    assert best.not_written == (2,)
    assert [str(pitch) for pitch in best.in_addition] == ["C6"]
    assert unambiguous([best]) is None


def test_two_that_fit_are_a_question():
    found = matches(chord("E4", "B4-50", "G#5"), TWIN)
    assert [one.sonority.id for one in found[:2]] == ["heron", "twin"]
    assert unambiguous(found) is None


@pytest.mark.parametrize(
    "text", ["twin", "M3 (twin)", "left 1 2 3 | right 1 2 3", "L 1 2 3 | R 1 2 3", "LH 123, RH 123"]
)
def test_text_beside_the_chord_decides(text):
    found = matches(chord("E4", "B4-50", "G#5", texts=[text]), TWIN)
    assert found[0].sonority == TWIN
    assert unambiguous(found) == found[0]


@pytest.mark.parametrize("text", ["twins", "entwine", "M1", "+14", "A", "12", "mf", "left 1"])
def test_other_text_does_not(text):
    found = matches(chord("E4", "B4-50", "G#5", texts=[text]), TWIN)
    assert unambiguous(found) is None


def test_a_text_that_names_another_sonority_is_a_question():
    found = matches(chord("E4", "B4-50", "G#5", texts=["crane"]))
    assert found[0].sonority == CRANE
    assert unambiguous(found) is None


def test_a_fingering_of_nobody_is_a_question():
    found = matches(chord("E4", "B4-50", "G#5", texts=["left 1 2 3 | right 2 3, low B"]))
    assert found[0].sonority == HERON
    assert found[0].told.contradicts
    assert unambiguous(found) is None


def test_the_number_in_the_source():
    numbered = sonority("numbered", "E4", "B4", source={"id": "log", "number": 12, "page": 3})
    assert told_by(["no. 12"], numbered).numbers
    assert told_by(["Nr. 12"], numbered).numbers
    assert not told_by(["no. 120"], numbered).numbers
    assert not told_by(["12"], numbered).numbers


def test_sonorities_of_other_saxophones_come_after_those_of_its_own():
    found = matches(chord("D4", "F#5", saxophone=ALTO))
    assert [(one.sonority, one.is_carried) for one in found] == [(BITTERN, True)]
    assert unambiguous(found) is None
    own = matches(chord("D4", "F#5", saxophone=TENOR))
    assert unambiguous(own).sonority == BITTERN


def test_fingerings_that_the_saxophone_lacks_are_no_match():
    low = sonority(
        "low", "E4", "C5", saxophone="baritone", fingering="low A | left 1 2 3 | right 1"
    )
    assert not [one for one in matches(chord("E4", "C5"), low) if one.sonority == low]


def test_how_far_a_tone_may_lie():
    assert matches(chord("E4", "B4", "G#5"), within=36)[0].is_whole
    assert not any(one.is_whole for one in matches(chord("E4", "B4", "G#5"), within=35))


def test_hardly_a_note_in_common_is_no_match():
    assert matches(chord("E4", "D6", "F6")) == ()


@pytest.mark.parametrize("within", [-1, 601])
def test_impossible_tolerances(within):
    with pytest.raises((RequestError, SeveralErrors), match="--within"):
        matches(chord("E4", "B4"), within=within)


def test_more_notes_than_any_sonority_has():
    cluster = [Pitch("CDEFGAB"[i % 7], 3 + i // 7) for i in range(14)]
    assert matches(Chord(ALTO, tuple(cluster))) == ()


@given(
    st.sampled_from([HERON, EGRET, CRANE]),
    st.lists(st.integers(-24, 24), min_size=3, max_size=3),
)
def test_a_chord_near_a_sonority_is_told_and_its_notes_never_cross(bird, cents):
    shown = [
        Pitch(p.step, p.octave, p.alteration_cents + c)
        for p, c in zip(bird.written_pitches, cents, strict=False)
    ]
    found = matches(Chord(ALTO, tuple(shown)))
    [mine] = [one for one in found if one.sonority == bird]
    assert mine.is_whole
    assert [note.tone for note in mine.notes] == sorted(note.tone for note in mine.notes)
    assert all(abs(note.cents) <= 50 for note in mine.notes)


@pytest.mark.parametrize(
    ("text", "is_one"),
    [("L 1 2 3 G♯ | R 1 2 3 low C", True), ("1", False), ("A", False), ("rit.", False)],
)
def test_what_counts_as_a_fingering(text, is_one):
    assert (fingering_in(text) is not None) == is_one

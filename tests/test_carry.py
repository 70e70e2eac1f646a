"""One sonority on every member of the family. Records are invented.

Intervals are written down here again, as common practice has them, and checked by counting
semitones and letters; nothing here asks the table that the program uses.
"""

import pytest

from reedchord.carry import ONLY_A_TRIAL, carry_to, carry_to_all
from reedchord.errors import RequestError
from reedchord.saxophones import saxophone
from reedchord.sonority import Sonority

# Written to concert, in semitones and letters (common practice, no source).
INTERVALS = {
    "sopranino": (3, 2),
    "soprano": (-2, -1),
    "alto": (-9, -5),
    "C melody": (-12, -7),
    "tenor": (-14, -8),
    "baritone": (-21, -12),
    "bass": (-26, -15),
    "contrabass": (-33, -19),
}
SEMITONES = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}

HERON = {
    "id": "heron",
    "name": "Grey heron",
    "saxophone": "alto",
    "fingering": "left 1 2 3, G sharp | right 1 half 2",
    "tones": [
        {"written": "E4-19", "presence": {"p": "faint", "f": "clear"}},
        {"concert": "D5+14"},
        {"written": "E6-50"},
    ],
    "emphasised": "D5+14",
    "limits": [{"articulation": "slap", "fastest": "16th at quarter = 72"}],
    "neighbours": [{"sonority": "egret", "because": "fingers"}],
    "build_up": [2, 1, 3],
    "advice": "Little air.",
    "evidence": "documented",
    "source": {"id": "notebook", "page": "12"},
    "set_up": "as the notebook has it",
}
OTHERS = [name for name in INTERVALS if name != "alto"]


def heron(**fields):
    return Sonority.model_validate(HERON | fields)


def on(name, **fields):
    return carry_to(heron(**fields), saxophone(name))


@pytest.mark.parametrize("name", OTHERS)
def test_concert_pitches_follow_the_other_saxophone(name):
    carried = on(name)
    semitones, letters = INTERVALS[name]
    assert [str(pitch) for pitch in carried.written] == ["E4-19", "B5+14", "E6-50"]
    for written, concert in zip(carried.written, carried.concert, strict=True):
        letter = 7 * written.octave + "CDEFGAB".index(written.step) + letters
        assert (concert.octave, concert.step) == (letter // 7, "CDEFGAB"[letter % 7])
        assert _semitones(concert) - _semitones(written) == semitones


def _semitones(pitch):
    return 12 * pitch.octave + SEMITONES[pitch.step] + pitch.alteration_cents / 100


@pytest.mark.parametrize("name", OTHERS)
def test_what_is_carried_is_the_same_claim_and_less_sure(name):
    carried = on(name).sonority
    assert carried.saxophone.name == name
    assert carried.id == f"heron-on-{name.replace(' ', '-')}"
    assert carried.carried_from == "heron"
    assert carried.evidence == "carried"
    for field in ("name", "fingering", "limits", "build_up", "advice", "source", "dynamics"):
        assert getattr(carried, field) == getattr(heron(), field)
    assert [tone.presence for tone in carried.tones] == [t.presence for t in heron().tones]
    assert carried.emphasised_number == 2


def test_set_up_and_neighbours_are_those_of_the_first_saxophone():
    carried = on("tenor").sonority
    assert carried.set_up is None
    assert carried.neighbours == ()


def test_a_carried_record_says_that_only_a_trial_makes_it_true():
    assert on("tenor").warnings == (ONLY_A_TRIAL,)


def test_a_key_that_is_missing_there_leaves_no_record():
    fingering = "low A | left 1 2 3 | right 1 2 3"
    tones = [{"written": "E4-19"}, {"written": "B5+14"}]
    low_a = heron(saxophone="baritone", fingering=fingering, tones=tones, emphasised=2, build_up=[])
    carried = carry_to(low_a, saxophone("alto"))
    assert carried.sonority is None
    assert carried.missing_keys == ("low A",)
    assert "the alto saxophone has no low A key" in carried.warnings
    # The pitches are told all the same.
    assert str(carried.concert[0]) == "G3-19"


def test_a_key_that_only_some_have_is_named():
    carried = on("tenor", fingering="left 1 2 3 | right 1 2, high F sharp")
    assert carried.missing_keys == ()
    assert carried.uncertain_keys == ("high F sharp",)
    assert "not every tenor saxophone has the high F sharp key" in carried.warnings
    assert carried.sonority is not None


def test_a_tone_that_only_the_baritone_reaches_is_warned_of_elsewhere():
    low = heron(saxophone="baritone", tones=[{"written": "A3"}], emphasised=1, build_up=[])
    (_, warning) = carry_to(low, saxophone("tenor")).warnings
    assert warning.startswith("tone 1, written A3, lies below the lowest note Bb3")


def test_an_invented_record_stays_known_as_invented():
    entry = {"id": "notebook", "type": "manuscript", "title": "Made up"}
    for source, note in (
        (None, "invented: nobody has played it"),
        ({"id": "notebook"}, "invented: nobody has played it"),
        ({"id": "notebook", "entry": entry | {"note": "a sketch"}}, "a sketch; invented"),
        ({"id": "notebook", "entry": entry | {"note": "Invented."}}, "Invented."),
    ):
        carried = on("tenor", evidence="invented", source=source)
        assert carried.sonority.evidence == "carried"
        assert carried.sonority.source.entry.note == note
        assert "heron is invented: nobody has played it on any saxophone" in carried.warnings
        again = carry_to(carried.sonority, saxophone("bass"))
        assert again.sonority.source.entry.note == note


def test_a_record_that_is_carried_twice_keeps_its_first_origin():
    tenor = on("tenor").sonority
    baritone = carry_to(tenor, saxophone("baritone")).sonority
    assert baritone.carried_from == "heron"
    assert baritone.id == "heron-on-baritone"


def test_a_carried_record_that_was_tried_since_is_an_origin_itself():
    data = on("tenor").sonority.model_dump(mode="json", by_alias=True)
    tried = Sonority.model_validate(data | {"evidence": "tried", "set_up": "invented player"})
    baritone = carry_to(tried, saxophone("baritone")).sonority
    assert baritone.carried_from == "heron-on-tenor"
    assert baritone.id == "heron-on-tenor-on-baritone"


def test_an_id_that_is_taken_is_not_given_again():
    taken = {"heron-on-tenor", "heron-on-tenor-2"}
    carried = carry_to(heron(), saxophone("tenor"), taken=taken)
    assert carried.sonority.id == "heron-on-tenor-3"


@pytest.mark.parametrize("ending", ["", "-on-tenor"])
def test_a_long_id_is_cut_and_stays_an_id(ending):
    long = "x" * (80 - len(ending)) + ending
    carried = on("tenor", id=long).sonority
    assert len(carried.id) == 80
    assert carried.id != long
    assert Sonority.model_validate(carried.model_dump(by_alias=True)) == carried


def test_to_its_own_saxophone_there_is_nothing_to_carry():
    with pytest.raises(RequestError, match="heron is for alto saxophone already"):
        on("alto")


def test_the_whole_family_comes_highest_first():
    assert [carried.saxophone.name for carried in carry_to_all(heron())] == OTHERS

"""What a record of a sonority answers. Records are invented; facts are common practice."""

import pytest
from pydantic import ValidationError

from reedchord.dynamics import Dynamic
from reedchord.errors import InputError
from reedchord.pitch import parse_pitch
from reedchord.reader import Reader, told_to
from reedchord.sonority import Sonority
from reedchord.sonority_fields import Presence

HERON = {
    "id": "heron",
    "name": "Grey heron",
    "saxophone": "alto",
    "fingering": "left 1 2 3, G sharp | right 1 half 2",
    "tones": [
        {"written": "E4-19", "presence": {"pp-p": "faint", "mp to f": "clear", "ff": "absent"}},
        {"concert": "D5+14", "presence": {"p": "dominant"}},
        {"written": "E6-50"},
    ],
    "emphasised": "B5+14",
    "limits": [
        {"articulation": "single tongue", "fastest": "semiquavers at crotchet = 72"},
        {"articulation": "slap", "fastest": "8ths at quarter = 60", "dynamics": "f-ff"},
    ],
    "build_up": [1, 3, 2],
    "evidence": "measured",
    "set_up": "invented player, plastic reed",
}


def heron(**fields):
    return Sonority.model_validate(HERON | fields)


def texts(pitches):
    return [str(pitch) for pitch in pitches]


def test_a_written_pitch_tells_the_concert_pitch_and_the_other_way_round():
    # An alto sounds a major sixth below its notes: written E4 is G3, concert D5 is written B5.
    assert texts(heron().written_pitches) == ["E4-19", "B5+14", "E6-50"]
    assert texts(heron().concert_pitches) == ["G3-19", "D5+14", "G5-50"]


def test_tones_are_numbered_from_the_lowest():
    assert list(heron().numbers) == [1, 2, 3]
    assert str(heron().written(1)) == "E4-19"
    assert str(heron().concert(1)) == "G3-19"


@pytest.mark.parametrize(
    ("tone", "number"),
    [
        (2, 2),
        ("E4-19", 1),
        ("B5+14", 2),
        ("B5", 2),
        ("D5+14", 2),  # in concert pitch
        ("G3", 1),
        ("Eqf6", 3),
        ("Eqf4", None),  # a quarter tone's 50 cents are meant: E4-19 is nearer to E4
        ("E4-22", None),  # cents are meant exactly
        ("F4", None),
        (0, None),
        (4, None),
    ],
)
def test_a_tone_is_named_by_number_or_pitch(tone, number):
    named = parse_pitch(tone) if isinstance(tone, str) else tone
    if number is None:
        with pytest.raises(InputError, match=r"not among the tones of heron") as caught:
            heron().tone_number(named)
        assert caught.value.hint == "Its written tones are 1: E4-19, 2: B5+14, 3: E6-50."
    else:
        assert heron().tone_number(named) == number


def test_a_pitch_midway_between_two_tones_names_neither():
    pair = heron(tones=[{"written": "F4-30"}, {"written": "F4+30"}], emphasised=1, build_up=[])
    assert pair.tone_number(parse_pitch("F4+30")) == 2
    with pytest.raises(InputError, match=r"F4 could be tone 1 or 2 of heron"):
        pair.tone_number(parse_pitch("F4"))


def test_the_emphasised_tone_is_known_by_its_number():
    assert heron().emphasised_number == 2
    assert heron(emphasised="3").emphasised_number == 3
    assert heron(emphasised=None).emphasised_number is None


def test_presence_holds_for_every_mark_of_a_range():
    tone = heron().tones[0]
    assert tone.presence_at(Dynamic.PP) is Presence.FAINT
    assert tone.presence_at(Dynamic.MF) is Presence.CLEAR
    assert tone.presence_at(Dynamic.FF) is Presence.ABSENT
    assert tone.presence_at(Dynamic.FFF) is None


def test_dynamics_are_those_said_or_else_those_at_which_a_tone_is_heard():
    assert str(heron().possible_dynamics()) == "pp-f"
    assert str(heron(dynamics="pp-fff").possible_dynamics()) == "pp-fff"
    assert heron(tones=[{"written": "E4"}], emphasised=1, build_up=[]).possible_dynamics() is None


def test_limits_are_spoken_american_or_british():
    single, slap = heron().limits
    assert single.words() == "single tongue: up to 16ths at quarter = 72"
    with told_to(Reader(british=True)):
        assert single.words() == "single tongue: up to semiquavers at crotchet = 72"
    assert slap.words() == "slap: up to eighths at quarter = 60, f-ff"
    # Four to a crotchet at 72 a minute: 4 · 72 / 60.
    assert float(single.fastest.attacks_per_second) == 4.8


def test_a_record_without_a_name_is_called_by_its_id():
    assert heron().label() == "Grey heron"
    assert heron(name=None).label() == "heron"


def test_a_record_cannot_be_changed():
    with pytest.raises(ValidationError, match="frozen"):
        heron().name = "Egret"


def test_a_record_goes_to_json_and_back_without_what_is_left_out():
    data = heron().model_dump(mode="json", by_alias=True, exclude_defaults=True)
    assert data["tones"][1:] == [
        {"concert": "D5+14", "presence": {"p": "dominant"}},
        {"written": "E6-50"},
    ]
    assert data["limits"][0] == {
        "articulation": "single tongue",
        "fastest": "16th at quarter = 72",
    }
    assert "neighbours" not in data
    assert Sonority.model_validate(data) == heron()

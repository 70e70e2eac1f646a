"""Trials as they are typed: the short forms of tones, and what is refused."""

import pytest

from oda import SET_UP
from reedchord.errors import ReedchordError
from reedchord.exchange.typed_trial import checked_trial, typed_tone, typed_tones
from reedchord.trials.doubts import trial_doubts
from samples import BITTERN, HERON

TONES = [
    ("2: p-f", {"tone": 2, "came_at": ["p-f"]}),
    ("2: p, mf-f", {"tone": 2, "came_at": ["p", "mf-f"]}),
    ("D5", {"tone": "D5"}),
    ("3: none", {"tone": 3, "came_at": []}),
    ("2 = D5-30", {"tone": 2, "measured": "D5-30"}),
    (
        "2 = D5-30 ±2.5: mf",
        {
            "tone": 2,
            "measured": "D5-30",
            "uncertainty_cents": 2.5,
            "came_at": ["mf"],
        },
    ),
    ("B4+64 = B4+60 +-2", {"tone": "B4+64", "measured": "B4+60", "uncertainty_cents": 2.0}),
    ("= E6+10", {"measured": "E6+10"}),
    ("tone 2: p-f", {"tone": 2, "came_at": ["p-f"]}),
    ("2 = D5 −30¢ ±2,5¢", {"tone": 2, "measured": "D5 −30¢", "uncertainty_cents": 2.5}),
    ("2 = D5 +/- 2 cents", {"tone": 2, "measured": "D5", "uncertainty_cents": 2.0}),
]


@pytest.mark.parametrize(("text", "data"), TONES)
def test_a_tone(text, data):
    assert typed_tone(text) == data


def test_several_tones():
    assert typed_tones("1: p; 3: none;") == [typed_tone("1: p"), typed_tone("3: none")]
    spread = [typed_tone(f"{number}: mf-f") for number in (1, 2, 3, 5)]
    assert typed_tones("1-3, 5: mf-f") == typed_tones("3-1, 5: mf-f") == spread
    assert typed_tones("tones 1–3,5 : mf-f; 4: p") == [*spread, typed_tone("4: p")]


@pytest.mark.parametrize("text", ["2 p-f", "2/3: p", "H4: p", "the lowest = D5"])
def test_what_names_no_tone(text):
    with pytest.raises(ReedchordError, match="neither the number of a tone nor its pitch"):
        typed_tone(text)


@pytest.mark.parametrize("text", ["", ": p", "= ", "2 = D5 = E5", "2 = D5 ±1.2.3", "2 = D5 ±"])
def test_what_is_no_tone(text):
    with pytest.raises(ReedchordError, match="no tone of a trial"):
        typed_tone(text)


@pytest.mark.parametrize(
    ("measured", "words"),
    [
        ("B4-60", []),
        (
            "C6+20",
            ["tone 2 is B4 −36¢, and C6 +20¢ was measured: is it another tone, or another"],
        ),
        ("D4-30", ["that is near D4 −36¢, its concert pitch; what is noted is written"]),
    ],
)
def test_a_tone_measured_far_from_the_record_is_doubted(measured, words):
    data = {**TRIAL, "tones": [{"tone": 2, "measured": measured}]}
    doubts = list(trial_doubts(HERON, checked_trial(data, HERON, SET_UP)))
    assert len(doubts) == len(words)
    assert all(said in doubt for said, doubt in zip(words, doubts, strict=True))


def test_a_speed_beyond_any_tongue_is_doubted():
    limit = {"articulation": "single tongue", "fastest": "16th at quarter = 720"}
    trial = checked_trial({**TRIAL, "limits": [limit]}, HERON, SET_UP)
    [doubt] = trial_doubts(HERON, trial)
    assert doubt.startswith("single tongue: 16ths at quarter = 720 are 48 attacks a second, faster")


TRIAL = {"date": "2031-11-25", "sonority": "heron", "outcome": "spoke"}
REFUSED = [
    ({"tones": [{"tone": 7}]}, "Its written tones are"),
    ({"tones": [{"tone": 1}, {"tone": "E4"}]}, "tone 1 is named twice"),
    ({"outcome": "did not", "tones": [{"tone": 1, "came_at": ["p"]}]}, "and yet a tone came"),
    ({"outcome": "well"}, "no outcome"),
    ({"attack": "tongue"}, "Did you mean"),
]


@pytest.mark.parametrize(("more", "words"), REFUSED)
def test_what_cannot_be_is_told(more, words):
    with pytest.raises(ReedchordError) as caught:
        checked_trial({**TRIAL, **more}, HERON, SET_UP)
    assert words in str(caught.value)


def test_a_set_up_tries_its_own_saxophone():
    with pytest.raises(ReedchordError, match="bittern is for tenor, oda-alto is a set-up of alto"):
        checked_trial({**TRIAL, "sonority": "bittern"}, BITTERN, SET_UP)

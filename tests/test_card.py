"""The card of a sonority, as a player reads it. Records are invented."""

from importlib.resources import files
from pathlib import Path

import pytest

from reedchord.card import card_text
from reedchord.collection_reading import parse_collection
from reedchord.pitch_names import PitchNames
from reedchord.reader import Reader, told_to
from reedchord.sonority import Sonority
from reedchord.wording import (
    CAUTIONS,
    EVIDENCE_SENTENCES,
    presence_told,
    presence_words,
    source_words,
)

GOLDEN = Path(__file__).parent / "golden"
HERON = {
    "id": "heron",
    "saxophone": "tenor",
    "fingering": "left 1 2 3, low C sharp, low B flat | right 1 half 2",
    "tones": [{"written": "A4"}, {"written": "B5+14", "presence": {"p": "faint"}}],
    "limits": [{"articulation": "slap", "fastest": "16th at dotted quarter = 50"}],
    "evidence": "tried",
    "set_up": "invented player, plastic reed",
}


def heron(**fields):
    return Sonority.model_validate(HERON | fields)


def row(text, label):
    """Return what stands beside a label, lines joined."""
    lines = text.splitlines()
    start = next(i for i, line in enumerate(lines) if line.startswith(label))
    more = [lines[start].removeprefix(label)]
    for line in lines[start + 1 :]:
        if not line.startswith(" "):
            break
        more.append(line)
    return " ".join(" ".join(more).split())


def test_a_card_looks_like_this():
    data = files("reedchord").joinpath("demo_data", "harbour-band.yaml").read_text("utf-8")
    card = card_text(parse_collection(data)["alto-slack-water"])
    assert card == (GOLDEN / "card-alto-slack-water.txt").read_text("utf-8")


def test_frequencies_follow_the_pitch_of_the_ensemble():
    # Written A4 on tenor sounds G3: 196.0 Hz at A4 = 440 (ISO 16; equal temperament), and
    # at 442 in proportion.
    tones = [{"written": "A4"}]
    assert "1     A4       G3       196.0" in card_text(heron(tones=tones))
    assert "1     A4       G3       196.9" in card_text(heron(tones=tones), a4_hz=442)
    assert "Hz (A4 = 442)" in card_text(heron(tones=tones), a4_hz=442)


@pytest.mark.parametrize(
    ("british", "words"),
    [
        (False, "slap: up to 16ths at dotted quarter = 50 (5 attacks a second)"),
        (True, "slap: up to semiquavers at dotted crotchet = 50 (5 attacks a second)"),
    ],
)
def test_a_limit_is_told_in_note_values_and_attacks(british, words):
    # Six semiquavers to a dotted crotchet, fifty times a minute.
    with told_to(Reader(british=british)):
        assert row(card_text(heron()), "Limits") == words


def test_what_is_not_known_is_said():
    text = card_text(heron(limits=[], tones=[{"written": "A4"}]))
    assert row(text, "Limits") == "not known"
    assert row(text, "Dynamics") == "not known"
    assert text.splitlines()[3].endswith("  not known")


def test_the_emphasised_tone_is_marked_in_words():
    marked = [line for line in card_text(heron(emphasised=2)).splitlines() if "emphasised" in line]
    assert marked == ["2     B5 +14¢  A4 +14¢  443.6          p faint  (emphasised)"]


def test_what_one_finger_hardly_holds_is_a_warning():
    assert row(card_text(heron()), "Warning").startswith(
        "left little finger on low C sharp and low B flat"
    )


def test_a_card_tells_how_well_the_record_is_known():
    text = card_text(heron())
    assert row(text, "Evidence") == (
        "tried: tried on one set-up, and true for that one (invented player, plastic reed)"
    )
    assert row(text, "Source") == "none: the player's own"
    carried = card_text(heron(evidence="carried", carried_from="egret"))
    assert row(carried, "Carried") == "from egret"
    assert "only a trial makes it true" in row(carried, "Evidence")


def test_every_kind_of_evidence_has_a_sentence():
    for evidence in ("invented", "carried", "documented", "tried", "measured"):
        assert EVIDENCE_SENTENCES[evidence]


def test_an_invented_record_is_not_the_players_own():
    assert source_words(heron(evidence="invented", set_up=None)) == "none"


def test_every_card_ends_with_the_usual_cautions():
    text = row(card_text(heron()), "Caution")
    assert text == " ".join(CAUTIONS)
    for word in ("bite", "jaw", "ears", "teacher"):
        assert word in text


@pytest.mark.parametrize(
    ("presence", "words"),
    [
        ({}, ""),
        ({"mf": "clear"}, "mf clear"),
        ({"pp": "faint", "p": "faint", "mp-f": "clear"}, "pp-p faint, mp-f clear"),
        ({"pp": "faint", "f-ff": "faint"}, "pp faint, f-ff faint"),
    ],
)
def test_dynamics_of_one_presence_are_drawn_together(presence, words):
    (tone,) = heron(tones=[{"written": "A4", "presence": presence}]).tones
    assert presence_words(tone) == words


def test_a_presence_of_which_nobody_says_anything_is_not_known():
    (tone,) = heron(tones=[{"written": "A4"}]).tones
    assert presence_told(tone) == "not known"


def test_a_card_with_german_names_says_so():
    with told_to(Reader(pitch_names=PitchNames.GERMAN)):
        text = card_text(heron(tones=[{"written": "Bb4-12"}]))
    assert "B4 −12¢" in text
    assert "B is B flat" in row(text, "Pitches")
    assert "B♭4 −12¢" in card_text(heron(tones=[{"written": "Bb4-12"}]))

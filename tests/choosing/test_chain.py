"""Playable sequences, as a composer asks for them."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generated import generated_collection
from reedchord.chains.chain_plan import chain_plan
from reedchord.chains.chain_wishes import parse_wishes, wishes_from_text
from reedchord.choosing import chain_solver
from reedchord.choosing.chain import chain
from reedchord.choosing.chain_report import chain_data, chain_text
from reedchord.collection import Collection
from reedchord.errors import ReedchordError
from reedchord.pitch import pitch_from_cents
from reedchord.placement.plan import parse_plan
from samples import sonority

LIMIT = [{"articulation": "single tongue", "fastest": "eighth at quarter = 90"}]


def _bird(name, *written, fingering, **fields):
    return sonority(name, *written, fingering=fingering, **{"limits": LIMIT} | fields)


# For alto, written D5 sounds F4, E5 sounds G4; for tenor, written G5 sounds F4.
HERON = _bird(
    "heron",
    "D5",
    fingering="left 1 2 3 | right 1 2 3, E flat",
    neighbours=[{"sonority": "stork", "because": "fingers and embouchure"}],
)
EGRET = _bird("egret", "E5", fingering="left 2, low B | right side C")
"""The best G4; from heron everything moves."""
STORK = _bird("stork", "E5+40", fingering="left 1 2 3 | right 1 2 3, low C")
"""G4, forty cents high; a neighbour of heron's."""
TERN = _bird("tern", "G5", saxophone="tenor", fingering="left 1 2 3")
BIRDS = Collection({one.id: one for one in (HERON, EGRET, STORK, TERN)}, {}, "birds")


CROWD = generated_collection(60)


def _chain(text, **options):
    request = parse_wishes(f"reedchord: wishes\nversion: 1\n{text}").request
    return chain(BIRDS, request, **options)


def _line(concert, **options):
    request = wishes_from_text(concert, **{"lasts": "half", "tempo": "60"} | options).request
    return chain(BIRDS, request)


def _names(sequenced):
    return [step.judged.sonority.id for step in sequenced.steps]


def _refused(text, **options):
    with pytest.raises(ReedchordError) as caught:
        _chain(text, **options)
    return str(caught.value)


def test_in_little_time_a_documented_neighbour_is_taken_before_a_better_fit():
    found = _line("F4; G4")
    assert _names(found.best[0]) == ["heron", "stork"]
    over = found.best[0].steps[1].passed_over
    assert (over.sonority.id, over.change.before.id, over.change.after.id) == (
        "egret",
        "heron",
        "egret",
    )
    assert over.more == pytest.approx(found.best[1].cost - found.best[0].cost)
    assert _names(found.best[1]) == ["heron", "egret"]
    assert found.proved


def test_with_a_long_rest_the_better_fit_is_taken():
    found = _chain("wishes: [{concert: F4, rest: whole}, {concert: G4}]")
    assert _names(found.best[0]) == ["heron", "egret"]
    assert found.best[0].steps[1].passed_over is None
    assert "any change is easy" in found.best[0].steps[1].change.words()


def test_with_another_player_the_better_fit_is_taken():
    found = _line("F4; G4", saxophones=["alto", "alto"])
    best = found.best[0]
    assert _names(best) == ["heron", "egret"]
    assert [step.player.name for step in best.steps] == ["alto 1", "alto 2"]
    assert best.change_cost == 0


def test_a_section_shares_the_row():
    found = _line("F4; G4; F4", saxophones=["alto", "tenor"])
    assert _names(found.best[0]) == ["tern", "egret", "tern"]
    assert [step.player.name for step in found.best[0].steps] == ["tenor", "alto", "tenor"]


def test_a_player_who_still_sounds_cannot_begin():
    row = "wishes: [{concert: F4, overlap: quarter}, {concert: G4}]\neach: {lasts: half}"
    told = _refused(f"players: [alto]\n{row}")
    assert "wish 2 (G4): no playable change leads here; whoever could play it still sounds" in told
    found = _chain(f"players: [alto, alto]\n{row}")
    assert len({step.player.name for step in found.best[0].steps}) == 2


def test_a_named_player_has_the_wish():
    row = "wishes: [{concert: F4, player: tenor}, {concert: F4, player: alto}]"
    found = _chain(f"players: [alto, tenor]\n{row}")
    assert [_names(one) for one in found.best] == [["tern", "heron"]]
    told = _refused("players: [alto, tenor]\nwishes: [{concert: G4, player: tenor}]")
    assert "no sonority fits (for tenor)" in told


def test_without_players_one_saxophone_has_them_all():
    found = _line("F4; F4")
    assert [_names(one) for one in found.best] == [["heron", "heron"], ["tern", "tern"]]


def test_fixed_and_forbidden_sonorities():
    row = "wishes: [{concert: F4, lasts: half}, {concert: G4, lasts: half}]"
    assert _names(_chain(f"forbidden: [stork]\n{row}").best[0]) == ["heron", "egret"]
    fixed = _chain(f"{row}\neach: {{tempo: 60}}".replace("concert: G4", "sonority: egret"))
    assert _names(fixed.best[0]) == ["heron", "egret"]


def test_a_fixed_sonority_stands_though_its_record_speaks_against_it():
    found = _chain("wishes: [{sonority: heron, lasts: 16th, tempo: 120}]")
    assert _names(found.best[0]) == ["heron"]
    assert "ruled out by speed: 16ths at quarter = 120 are beyond it" in chain_text(found)


def test_a_tempo_beyond_the_limit_rules_out():
    told = _refused("wishes:\n  - {concert: F4}\n  - {concert: G4, lasts: 16th, tempo: 120}")
    assert "wishes.yaml, line 5, column 5, field wishes[2]: wish 2 (G4): no sonority fits" in told
    assert "ruled out by speed: 16ths at quarter = 120 are beyond it" in told


def test_a_change_that_nobody_can_play_rules_out():
    """Heron to egret moves nearly every finger, here in less than a tenth of a second."""
    told = _refused(
        "forbidden: [stork]\neach: {lasts: eighth, tempo: 90}\n"
        "wishes: [{concert: F4}, {concert: G4}]"
    )
    assert "wish 2 (G4): no playable change leads here; the easiest, heron to egret" in told
    assert "computed as hard" in told
    assert "Give it more time" in told


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ("wishes: [{sonority: herron}]", "Did you mean heron or tern?"),
        ("forbidden: [egert]\nwishes: [{concert: F4}]", "line 3, column 13, field forbidden[1]"),
        ("forbidden: [heron]\nwishes: [{sonority: heron}]", "to stand here, and is forbidden"),
        ("players: [alto]\nwishes: [{sonority: tern}]", "tern cannot stand here (for alto)"),
        ("wishes: [{concert: C8}]", "ruled out by concert: no tone meets a wished pitch"),
    ],
)
def test_impossible_wishes_are_named(row, words):
    assert words in _refused(row)


def test_an_empty_collection_is_told():
    request = wishes_from_text("F4").request
    with pytest.raises(ReedchordError, match="no sonority is in nowhere"):
        chain(Collection({}, {}, "nowhere"), request)


def test_few_candidates_are_told_and_a_proof_is_only_claimed_where_there_is_one():
    row = "players: [alto]\nwishes: [{concert: F4, lasts: half}, {concert: G4, lasts: half}]"
    narrow = _chain(row, width=1)
    assert _names(narrow.best[0]) == ["heron", "egret"]
    assert _names(_chain(row).best[0]) == ["heron", "stork"]
    assert (narrow.width, narrow.proved) == (1, False)
    assert "At most the 1 nearest sonorities of each saxophone" in chain_text(narrow)
    rested = row.replace("F4, lasts: half", "F4, rest: whole")
    proved = _chain(rested, width=1, count=1)
    assert (proved.width, proved.proved) == (None, True)
    assert _names(proved.best[0]) == _names(_chain(rested).best[0])


@settings(max_examples=25, deadline=None)
@given(st.lists(st.integers(50, 74), min_size=2, max_size=5), st.sampled_from([1, 2]))
def test_what_is_proved_is_what_weighing_everything_finds(semitones, players):
    """Collection and rows are generated; the other way to it is to leave nothing out."""
    row = "; ".join(str(pitch_from_cents(Fraction(100 * one))) for one in semitones)
    request = wishes_from_text(row, lasts="half", tempo="72", saxophones=["alto"] * players).request
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(chain_solver, "FIRST_WIDTH", 2)
        proved = chain(CROWD, request)
    whole = chain(CROWD, request, width=len(CROWD))
    assert proved.proved
    assert [one.cost for one in proved.best] == pytest.approx([one.cost for one in whole.best])
    assert proved.at_least == pytest.approx(proved.best[0].cost)


def test_where_few_candidates_lead_nowhere_more_are_weighed_unless_a_number_was_asked_for():
    row = "players: [alto]\neach: {lasts: quarter}\nwishes: [{concert: F4}, {concert: G4}]"
    assert _names(_chain(row).best[0]) == ["heron", "stork"]
    assert "more candidates" in _refused(row, width=1)


def test_too_much_to_weigh_is_refused_with_the_number_that_would_do():
    crowd = {f"s{n}": _bird(f"s{n}", f"D5+{n}", fingering="left 1") for n in range(40)}
    many = Collection(crowd, {}, "crowd")
    row = "; ".join(["F4"] * 40)
    request = wishes_from_text(row, lasts="half", tempo="60", saxophones=["alto"] * 3).request
    with pytest.raises(ReedchordError) as caught:
        chain(many, request, width=30)
    would_do = re.search(r"--candidates (\d+) would do", str(caught.value))
    assert 3 <= int(would_do[1]) < 30
    crowded = wishes_from_text(row, lasts="half", tempo="240", saxophones=["alto"] * 6).request
    with pytest.raises(ReedchordError, match="Take fewer players"):
        chain(many, crowded)


def test_text_tells_fits_changes_and_what_was_traded():
    text = chain_text(_line("F4; G4"))
    assert text.startswith("The best of all sequences, cost ")
    assert "A better fit was passed over for an easier change at wish 2." in text
    assert "from heron: documented as easy, fingers and embouchure; one finger" in text
    assert "passed over: egret fits better (10), but all would cost" in text
    assert re.search(r"2\.  cost \d+; wish 2: egret, not stork", text)
    assert "common practice, no source" in text


def test_the_head_tells_what_no_tone_meets():
    assert "No tone meets" not in chain_text(_line("F4; G4"))
    assert "\nNo tone meets B♭2 at wish 2.\n" in chain_text(_line("F4; G4 Bb2"))


def test_text_names_the_players_of_a_section():
    text = chain_text(_line("F4; G4", saxophones=["alto", "alto"]))
    assert "heron for alto 1: heron, alto saxophone" in text


def test_data_for_programs():
    data = chain_data(_line("F4; G4"))
    first, second = data["sequences"][0]["steps"]
    assert (data["proved"], data["candidates"]) == (True, None)
    assert first["change"] is None
    assert (second["begin_seconds"], second["length_seconds"]) == (2.0, 2.0)
    assert second["result"]["sonority"] == "stork"
    assert second["change"]["basis"] == "documented"
    assert second["change"]["seconds"] == 0.5
    assert second["passed_over"]["sonority"] == "egret"


PLACES = """
players: [{saxophone: alto, part: P1}]
each: {lasts: half, tempo: 60}
wishes:
  - {concert: F4, bar: 1}
  - {emphasised: G4, bar: 1, beat: 3, articulation: slap}
"""


def test_a_plan_has_every_place_and_what_the_wishes_bring_out():
    text = chain_plan(_chain(PLACES).best[0], "birds.yaml")
    plan = parse_plan(text)
    assert str(plan.collection) == "birds.yaml"
    one, other = (placement for placement, _ in plan.placements)
    assert (one.sonority, one.part, one.bar, one.beat) == ("heron", "P1", "1", "1")
    assert (other.bar, other.beat, str(other.lasting)) == ("1", "3", "half")
    assert (other.emphasised, other.manner) == (1, "slap")


def test_a_plan_needs_bars_and_parts():
    found = _chain("players: [alto]\nwishes: [{concert: F4}]")
    with pytest.raises(ReedchordError) as caught:
        chain_plan(found.best[0], None)
    assert "wish 1 has no bar, which a plan needs" in str(caught.value)
    assert "the player alto has no part" in str(caught.value)

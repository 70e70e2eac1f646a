"""`reedchord place --plan` on a score that holds placements already."""

import pytest

SCORE, PLACED = "harbour-lights.musicxml", "harbour-lights-placed.musicxml"
SLAP = (
    "  - {sonority: baritone-engine-room, part: Baritone Saxophone, bar: 8, beat: 1, "
    "manner: slap}\n"
)


@pytest.fixture
def plan(harbour):
    return harbour / "harbour-plan.yaml"


def test_the_same_plan_again_changes_nothing(run, harbour, plan):
    before = (harbour / PLACED).read_bytes()
    status, _, err = run("place", PLACED, "--plan", plan.name, "--in-place")
    assert (status, "was so already" in err) == (0, True)
    assert (harbour / PLACED).read_bytes() == before


def test_a_changed_plan_gives_what_it_gives_on_the_original(run, harbour, plan):
    text = plan.read_text("utf-8")
    assert SLAP in text
    plan.write_text(text.replace(SLAP, "").replace("bar: 9, beat: 3", "bar: 9, beat: 1"), "utf-8")
    run("place", SCORE, "--plan", plan.name, "-o", "fresh.musicxml")
    status, _, err = run("place", PLACED, "--plan", plan.name, "-o", "again.musicxml")
    assert status == 0
    assert "baritone-engine-room is taken out, it is not in the plan" in err
    fresh = (harbour / "fresh.musicxml").read_bytes()
    assert (harbour / "again.musicxml").read_bytes() == fresh


def test_one_wrong_placement_and_nothing_is_written(run, harbour, plan):
    text = plan.read_text("utf-8")
    wrong = text.replace("bar: 8, beat: 1", "bar: 88").replace("tenor-slipway", "tenor-slipwey")
    plan.write_text(wrong, "utf-8")
    before = (harbour / PLACED).read_bytes()
    status, _, err = run("place", PLACED, "--plan", plan.name, "--in-place")
    assert status == 2
    lines = {number for number in range(1, 40) if f"line {number}" in err}
    expected = {
        count
        for count, line in enumerate(wrong.splitlines(), start=1)
        if "bar: 88" in line or "slipwey" in line
    }
    assert expected <= lines
    assert (harbour / PLACED).read_bytes() == before


def test_the_help_says_how_a_plan_differs_from_one_placement(run, harbour):
    status, out, _ = run("place", "--help")
    words = " ".join(out.split())
    assert status == 0
    assert "those that it does not name are taken out" in words

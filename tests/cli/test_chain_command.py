"""`chain` as a composer meets it: from wishes to a plan, and from the plan into the score."""

from __future__ import annotations

import json

import pytest

from reedchord.musicxml.document import read_score
from reedchord.placement.record import record_of

pytestmark = pytest.mark.usefixtures("harbour")
IN_BAND = ["-c", "harbour-band.yaml"]


def test_the_plan_of_the_demonstration_is_placed_and_proved(run, harbour):
    """`place` reads its own result anew and compares before it writes."""
    status, out, err = run("chain", "harbour-wishes.yaml", "-o", "chained.yaml")
    assert (status, err) == (0, "wrote chained.yaml\n")
    assert "A better fit was passed over for an easier change at wish 2." in out
    status, _, err = run(
        "place", "harbour-lights.musicxml", "--plan", "chained.yaml", "-o", "chained.musicxml"
    )
    assert status == 0, err
    record = record_of(read_score((harbour / "chained.musicxml").read_bytes()))
    placed = [
        (row.wish.sonority, row.wish.bar.removeprefix("@"), row.wish.beat)
        for row in record.placements
    ]
    assert placed == [
        ("alto-slack-water", "5", "1"),
        ("alto-tide-mill", "6", "1"),
        ("alto-rope-walk", "6", "3"),
    ]
    status, _, _ = run("strip", "chained.musicxml", "-o", "as-it-was.musicxml")
    assert status == 0
    untouched = (harbour / "harbour-lights.musicxml").read_bytes()
    assert (harbour / "as-it-was.musicxml").read_bytes() == untouched


def test_the_next_best_can_be_taken(run, harbour):
    status, _, _ = run("chain", "harbour-wishes.yaml", "-o", "second.yaml", "--choose", "2")
    assert status == 0
    assert "alto-shingle" in (harbour / "second.yaml").read_text("utf-8")
    status, _, err = run("chain", "harbour-wishes.yaml", "-o", "third.yaml", "--choose", "9")
    assert status == 2
    assert "there are 2 sequences, not 9" in err
    alone = ["--concert", "F4 C5", "--saxophone", "tenor", "--choose", "9"]
    status, _, err = run("chain", *IN_BAND, *alone)
    assert status == 2
    assert "there is 1 sequence, not 9" in err


def test_the_collection_is_found_from_where_the_plan_stands(run, harbour):
    (harbour / "plans").mkdir()
    assert run("chain", "harbour-wishes.yaml", "-o", "plans/chained.yaml")[0] == 0
    plan = (harbour / "plans" / "chained.yaml").read_text("utf-8")
    assert "collection: ../harbour-band.yaml\n" in plan


def test_a_section_in_one_line(run):
    wishes = ["--concert", "F4 C5; Bb3; G3 Eb4", "--each", "half", "--tempo", "72"]
    section = ["--saxophone", "alto", "--saxophone", "tenor"]
    status, out, err = run("chain", *IN_BAND, *wishes, *section, "--json")
    assert (status, err) == (0, "")
    steps = json.loads(out)["sequences"][0]["steps"]
    assert [(step["player"], step["result"]["sonority"]) for step in steps] == [
        ("alto", "alto-slack-water"),
        ("tenor", "tenor-ferry-bell"),
        ("alto", "alto-tide-mill"),
    ]
    assert steps[2]["change"]["rest_seconds"] == pytest.approx(60 / 72 * 2)


SECTION = """
reedchord: wishes
version: 1
collection: harbour-band.yaml
players:
  - {saxophone: alto, part: Alto Saxophone}
  - {saxophone: tenor, part: Tenor Saxophone}
each: {tempo: quarter = 72, at: mf, lasts: half}
wishes:
  - {bar: 5, concert: F4 C5, lasts: whole}
  - {bar: 6, concert: Bb3}
  - {bar: 6, beat: 3, emphasised: A4}
"""


def test_a_section_is_placed_each_in_its_own_part(run, harbour):
    (harbour / "section.yaml").write_text(SECTION, "utf-8")
    assert run("chain", "section.yaml", "-o", "chained.yaml")[0] == 0
    plan = ["--plan", "chained.yaml", "-o", "chained.musicxml"]
    status, _, err = run("place", "harbour-lights.musicxml", *plan)
    assert status == 0, err
    record = record_of(read_score((harbour / "chained.musicxml").read_bytes()))
    assert [(row.wish.sonority, row.wish.part) for row in record.placements] == [
        ("alto-slack-water", "P2"),
        ("tenor-ferry-bell", "P3"),
        ("alto-rope-walk", "P2"),
    ]


def test_no_sequence_is_status_1_with_the_wish_and_the_reason(run):
    status, out, err = run("chain", *IN_BAND, "--concert", "F4; C8", "--saxophone", "alto")
    assert (status, out) == (1, "")
    assert "wish 2 (C8): no sonority fits (for alto)" in err
    assert "ruled out by concert" in err


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (IN_BAND, "no wishes are named"),
        (["--concert", "F4", "-o", "x.yaml"], "no collection is named"),
        (
            [*IN_BAND, "--concert", "F4; G4", "--tempo", "fast"],
            "error: --tempo: 'fast' is no tempo",
        ),
        ([*IN_BAND, "--concert", "F4", "--each", "long time"], "error: --each: "),
        (["nowhere.yaml"], "nowhere.yaml: there is no such file"),
        (["harbour-wishes.yaml", "--concert", "F4", "--at", "p"], "leave out --concert, --at"),
        (
            ["harbour-plan.yaml"],
            "harbour-plan.yaml, line 2, column 1: this is not a file of wishes",
        ),
        ([*IN_BAND, "--concert", "F4; G#x"], "'G#x' is no pitch: column 3"),
        ([*IN_BAND, "--concert", "F4", "--saxophone", "kazoo"], "sopranino, soprano, alto"),
        ([*IN_BAND, "--concert", "F4", "-o", "x.yaml"], "wish 1 has no bar, which a plan needs"),
        (["harbour-wishes.yaml", "-o", "harbour-wishes.yaml"], "would overwrite"),
    ],
)
def test_mistakes_are_status_2_and_write_nothing(run, harbour, arguments, words):
    before = {path.name: path.read_bytes() for path in harbour.iterdir()}
    status, out, err = run("chain", *arguments)
    assert (status, out) == (2, "")
    assert words in err
    assert {path.name: path.read_bytes() for path in harbour.iterdir()} == before

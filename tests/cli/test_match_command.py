"""`reedchord match` as it is typed."""

import json

import pytest

from samples import RESTS, score
from typed_chords import chord, typed_by_hand

BAND = ("--collection", "harbour-band.yaml")


@pytest.fixture
def typed(harbour, run):
    """Return the demonstration with its chords typed by hand."""
    status, _, _ = run(
        "place", "harbour-lights.musicxml", "--plan", "harbour-plan.yaml", "-o", "placed.musicxml"
    )
    assert status == 0
    file = harbour / "typed.musicxml"
    file.write_bytes(typed_by_hand((harbour / "placed.musicxml").read_bytes()))
    return file


def test_the_demonstration_is_told(typed, run):
    status, out, _ = run("match", typed, *BAND)
    assert status == 0
    assert "7 chords: 6 told, 1 to ask about" in out
    assert "taken by itself: alto-slack-water" in out
    assert "tone 4, B♭5 −17¢ (absent, faint), is not written" in out


def test_it_is_marked_and_stripped_again(typed, run):
    take = "bar 3 beat 3 = tenor-ferry-bell"
    status, _, talk = run("match", typed, *BAND, "--choose", take, "--apply", "-o", "out.musicxml")
    assert status == 0
    assert "chords marked: 7; not marked: 0" in talk
    status, _, _ = run("strip", "out.musicxml", "-o", "back.musicxml")
    assert status == 0
    assert (typed.parent / "back.musicxml").read_bytes() == typed.read_bytes()
    status, out, _ = run("footnotes", "out.musicxml")
    assert status == 0
    assert "Ferry bell" in out
    status, _, _ = run("plan", "out.musicxml", "-o", "plan.yaml")
    assert "as_written: true" in (typed.parent / "plan.yaml").read_text("utf-8")
    status, out, talk = run("tuning", "out.musicxml")
    assert status == 0
    status, out, talk = run("sheet", "out.musicxml", "-o", "sheet.html")
    assert status == 0, talk


def test_in_place_diff_and_dry_run(typed, run):
    before = typed.read_bytes()
    status, out, talk = run("match", typed, *BAND, "--apply", "--diff")
    assert (status, typed.read_bytes()) == (1, before)
    assert out.startswith("---")
    assert "+" in out
    assert "told" in talk
    status, out, _ = run("match", typed, *BAND, "--apply", "--dry-run")
    assert (status, typed.read_bytes()) == (1, before)
    status, out, _ = run("match", typed, *BAND, "--apply", "--in-place")
    assert status == 0
    assert typed.read_bytes() != before
    status, out, _ = run("match", typed, *BAND)
    assert "1 chord: 0 told, 1 to ask about" in out


def test_the_score_alone_on_standard_output(typed, run):
    status, out, _ = run("match", typed, *BAND, "--apply", "-o", "-")
    assert status == 0
    assert out.startswith("<?xml")


def test_json(typed, run):
    status, out, _ = run("match", typed, *BAND, "--json")
    assert status == 0
    told = json.loads(out)
    assert (told["taken"], told["questions"]) == (6, 1)


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (["typed.musicxml", "--part", "Pianola"], "Did you mean"),
        (["typed.musicxml", "--part", "Piano"], "for no saxophone"),
        (["typed.musicxml", "--within", "a lot"], "no number of cents"),
        (["typed.musicxml", "--within", "900"], "--within goes from 0 to 600"),
        (["typed.musicxml", "--choose", "heron"], "no choice of a sonority"),
        (["typed.musicxml", "--apply"], "no output is named"),
        (["typed.musicxml", "-o", "out.musicxml"], "Say --apply"),
        (["typed.musicxml", "--apply", "-o", "typed.musicxml"], "the output is the score itself"),
        (["rests.musicxml"], "there is no chord in P1"),
        (["flute.musicxml"], "no part that says it is for a saxophone"),
        (["missing.musicxml"], "there is no such file"),
    ],
)
def test_mistakes_are_told(typed, run, arguments, sentence):
    (typed.parent / "rests.musicxml").write_bytes(RESTS)
    (typed.parent / "flute.musicxml").write_bytes(score(chord("C4", "E4"), name="Flute"))
    status, _, talk = run("match", *arguments, *BAND)
    assert status == 2
    assert sentence in talk


def test_without_a_collection_nothing_is_marked(typed, run):
    status, _, talk = run("match", typed)
    assert status == 0
    assert "all invented" in talk
    status, _, talk = run("match", typed, "--apply", "-o", "out.musicxml")
    assert status == 2
    assert "Name yours: --collection FILE" in talk


def test_nothing_that_fits_is_a_status(harbour, run):
    (harbour / "cluster.musicxml").write_bytes(score(chord("C4", "C#4", "D4")))
    status, out, _ = run("match", "cluster.musicxml", *BAND)
    assert status == 1
    assert "what is fingered here?" in out
    status, _, talk = run("match", "cluster.musicxml", *BAND, "--apply", "-o", "out.musicxml")
    assert status == 1
    assert "nothing was written" in talk
    assert not (harbour / "out.musicxml").exists()

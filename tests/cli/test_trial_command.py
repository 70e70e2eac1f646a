"""`reedchord trial` as a player meets it."""

import os
import pty
import subprocess
import sys
from pathlib import Path

import pytest

from oda import SET_UP_TEXT
from reedchord import score_files

BAND = ["--set-up", "oda.yaml", "-c", "harbour-band.yaml"]
DAY = ["--date", "2031-11-25"]


@pytest.fixture
def oda(harbour):
    (harbour / "oda.yaml").write_text(SET_UP_TEXT, "utf-8")
    return harbour


def test_a_trial_is_noted_with_the_cautions(run, oda):
    status, out, err = run(
        "trial", "alto-slack-water", *BAND, *DAY, "--outcome", "spoke", "--tone", "2 = D5-30: p-f",
        "--fastest", "single tongue: 16th at quarter = 60",
    )  # fmt: skip
    assert (status, out) == (0, "")
    assert "noted in oda-trials.yaml: alto-slack-water, 2031-11-25, spoke" in err
    assert "Do not bite" in err
    assert "measured: D5-30" in (oda / "oda-trials.yaml").read_text("utf-8")


def test_what_may_be_a_slip_is_noted_and_said(run, oda):
    slip = "2 = B4-30"  # its concert pitch would be D5-29, so B4 is neither
    status, _, err = run("trial", "alto-lantern", *BAND, "--outcome", "spoke", "--tone", slip)
    assert (status, "is it another tone, or another octave?" in err) == (0, True)
    assert "B4-30" in (oda / "oda-trials.yaml").read_text("utf-8")
    status, out, _ = run("show", "alto-lantern", *BAND)
    assert (status, "is it another tone, or another octave?" in " ".join(out.split())) == (0, True)


def test_looking_writes_nothing(run, oda):
    status, out, _ = run("trial", "alto-lantern", *BAND, *DAY, "--outcome", "did not", "--dry-run")
    assert (status, "outcome: did not speak" in out) == (1, True)
    assert not (oda / "oda-trials.yaml").exists()


SCORE = ["--score", "harbour-lights-placed.musicxml"]


def test_a_sonority_of_a_score_by_its_label(run, oda):
    said = ["trial", "M2", *SCORE, *BAND[:2], *DAY, "--outcome", "spoke"]
    status, _, err = run(*said)
    assert (status, "alto-slack-water, 2031-11-25, spoke" in err) == (0, True)
    status, _, err = run("trial", "M9", *SCORE, *BAND[:2], "--outcome", "spoke")
    assert (status, "no sonority 'M9' stands in the score" in err) == (2, True)
    status, _, err = run("trial", "--score", "harbour-lights.musicxml", *BAND[:2])
    assert (status, "harbour-lights.musicxml: the score holds no sonorities" in err) == (2, True)


MISTAKES = [
    (["alto-lantrn", "--outcome", "spoke"], "Did you mean alto-lantern"),
    (["alto-lantern", "--outcome", "spok"], "Did you mean spoke"),
    (["alto-lantern", "--outcome", "spoke", "--tone", "9"], "Its written tones are"),
    (["tenor-slipway", "--outcome", "spoke"], "a set-up of alto"),
    (["tenor-slipway"], "tenor-slipway is for tenor, oda-alto is a set-up of alto"),
    (["alto-lantern"], "no terminal to ask on"),
    (["--outcome", "spoke"], "say what was tried"),
    (["alto-lantern", "--outcome", "spoke", "--date", ""], "date is empty"),
    (["alto-lantern", "--outcome", ""], "'' is no outcome of a trial"),
    (["alto-lantern", "--outcome", "spoke", "--attack", ""], "'' is no way of articulating"),
    (["alto-lantern", "--outcome", "spoke", "--at", ""], "'' is no dynamic mark"),
    (["alto-lantern", "--outcome", "spoke", "--fastest", "fast"], "'fast' cannot be read as"),
]


@pytest.mark.parametrize(("arguments", "words"), MISTAKES)
def test_mistakes_are_told_and_nothing_is_written(run, oda, arguments, words):
    status, out, err = run("trial", *arguments, *BAND)
    assert (status, out) == (2, "")
    assert words in err
    assert not (oda / "oda-trials.yaml").exists()


def test_a_log_with_mistakes_is_told_by_line_and_column_and_stays(run, oda):
    broken = "reedchord: trials\nversion: 1\nset_up: oda-alto\ntrials:\n  - {date: \n"
    (oda / "oda-trials.yaml").write_text(broken, "utf-8")
    status, _, err = run("trial", "alto-lantern", *BAND, "--outcome", "spoke")
    assert (status, "oda-trials.yaml, line 6, column 1" in err) == (2, True)
    assert (oda / "oda-trials.yaml").read_text("utf-8") == broken


def test_nothing_is_added_while_another_program_adds(run, oda, monkeypatch):
    monkeypatch.setattr(score_files, "MOST_SECONDS_WAITED", 0.0)
    with score_files.in_turn(oda / "oda-trials.yaml"):
        status, _, err = run("trial", "alto-lantern", *BAND, *DAY, "--outcome", "spoke")
    assert (status, "another program is adding to it" in err) == (2, True)
    assert not (oda / "oda-trials.yaml").exists()


def _typed(*lines):
    """Run a filled sheet's entry at a terminal of its own; return the status and what was told."""
    ours, theirs = pty.openpty()
    command = [sys.executable, "-m", "reedchord", "trial", "--set-up", "oda.yaml", *DAY]
    command += ["--score", "harbour-lights-placed.musicxml"]
    environment = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[2] / "src")}
    process = subprocess.Popen(
        command, stdin=theirs, stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=environment
    )
    os.close(theirs)
    os.write(ours, "".join(f"{line}\n" for line in lines).encode())
    _, err = process.communicate(timeout=60)
    os.close(ours)
    return process.returncode, err.decode("utf-8")


def test_a_filled_sheet_is_typed_in(oda):
    status, told = _typed(
        "2", "9: p", "2: p-f; 3: none", "breath", "", "?", "soft reed", "fine", "yes"
    )
    assert status == 0, told
    assert "M2  alto-slack-water: L 1 2 3 | R 1 - 3 E♭" in told
    assert "tenor" not in told  # another player's
    assert "9 is not among the tones" in told
    assert "answer yes or no" in told  # and what was typed is not lost
    log = (oda / "oda-trials.yaml").read_text("utf-8")
    for words in ("spoke after a try", "{tone: 3, came_at: []}", "attack: breath", "soft reed"):
        assert words in log


def test_stopping_writes_nothing(oda):
    status, told = _typed("2", "stop")
    assert (status, "nothing was written" in told) == (1, True)
    assert not (oda / "oda-trials.yaml").exists()


def test_a_score_with_nothing_for_the_saxophone_is_told_before_anybody_is_asked(run, harbour):
    (harbour / "bass.yaml").write_text(SET_UP_TEXT.replace("alto", "bass"), "utf-8")
    score = ["--score", "harbour-lights-placed.musicxml"]
    status, _, err = run("trial", *score, "--set-up", "bass.yaml")
    assert status == 2
    assert "what stands in the score is for tenor, alto, baritone, soprano, oda-bass is a" in err

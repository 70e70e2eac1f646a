"""`reedchord check` as a composer, an editor and a pipeline meet it."""

from __future__ import annotations

import json
import os
import pty
import re
import subprocess
import sys
from pathlib import Path

import pytest
from ruamel.yaml import YAML

from reedchord.demo_mistakes import DELIBERATE, MISTAKES

BAND = ["-c", "harbour-band.yaml"]
PLACED = "harbour-lights-placed.musicxml"


def found(run, *arguments):
    """The findings of one score as data."""
    _, out, _ = run("check", *arguments, "--format", "json")
    return json.loads(out)["scores"][0]["findings"]


def test_the_demonstration_has_nothing_to_find(run, harbour):
    status, out, err = run("check", PLACED, *BAND)
    assert (status, out) == (0, "")
    assert "nothing found in 1 score" in err


def test_every_deliberate_mistake_is_found_and_nothing_else(run, harbour):
    assert len(DELIBERATE) >= 8
    status, out, err = run("check", MISTAKES, *BAND)
    assert status == 1
    for mistake in DELIBERATE:
        assert f" {mistake.code}: " in out
    codes = [finding["code"] for finding in found(run, MISTAKES, *BAND)]
    assert sorted(codes) == sorted(mistake.code for mistake in DELIBERATE)
    assert "6 errors, 4 warnings in 1 of 1 score" in err


def test_remedies_mend_every_mistake_and_check_is_silent_afterwards(run, harbour):
    score = harbour / MISTAKES
    # What was changed by hand is changed back by hand.
    text = score.read_text("utf-8")
    for mistake in DELIBERATE:
        for edit in mistake.edits if mistake.code != "chord.unknown" else ():
            start = text.index(f'<part id="{edit.part}">')
            start = text.index(f'<measure number="{edit.bar}"', start)
            place = text.index(edit.new, start)
            text = text[:place] + edit.old + text[place + len(edit.new) :]
    score.write_text(text, "utf-8")
    left = found(run, MISTAKES, *BAND)
    assert len(left) == 5
    # Whatever has a sonority as its remedy gets it.
    for finding in left:
        swap = next((one for one in finding["remedies"] if one["swap_to"]), None)
        place = (swap and swap["spot"]) or finding
        at = ["--part", place["part_id"], "--bar", place["bar"]]
        if finding["code"] == "chord.unknown":
            done = run("place", MISTAKES, swap["swap_to"], *BAND, *at, "--in-place")
        elif finding["code"] == "tone.absent":  # its own middle tone is brought out instead
            assert "bring out B4" in finding["remedies"][1]["words"]
            done = run("place", MISTAKES, "tenor-breakwater", *BAND, *at, "--in-place")
        else:
            put = [place["label"], swap["swap_to"]]
            done = run("swap", MISTAKES, *put, *BAND, *at, "--in-place")
        assert done[0] == 0, done[2]
    status, out, _ = run("check", MISTAKES, *BAND)
    assert (status, out) == (0, ""), out


def test_the_bar_is_shown_with_the_place_in_brackets(run, harbour):
    _, out, _ = run("check", MISTAKES, *BAND, "--select", "saxophone.range")
    assert "P1 (Soprano Saxophone), bar 7 | [1: E3 quarter], 2: G5 quarter, 3: E5 quarter |" in out


def test_rules_are_chosen_by_code_and_by_subject(run, harbour):
    chosen = found(run, MISTAKES, "--select", "speed,tone", "--ignore", "tone.absent")
    assert [finding["code"] for finding in chosen] == ["speed.too-fast"]


@pytest.mark.parametrize(
    ("arguments", "status"),
    [
        (["--select", "marks"], 1),  # warnings
        (["--select", "marks", "--fail-on", "error"], 0),
        (["--select", "speed", "--fail-on", "error"], 1),
        (["--select", "breath"], 0),  # nothing there
    ],
)
def test_the_status_follows_the_worst_finding(run, harbour, arguments, status):
    assert run("check", MISTAKES, *BAND, *arguments)[0] == status


def test_a_made_up_sonority_is_an_error_in_a_score_for_performance(run, harbour):
    status, out, _ = run("check", PLACED, "--for-performance")
    assert status == 1
    assert out.count("evidence.invented") == 6


def test_a_score_without_a_tempo_is_checked_at_a_stated_one(run, harbour):
    text = (harbour / PLACED).read_text("utf-8")
    start, end = text.index("<metronome"), text.index("</metronome>") + len("</metronome>")
    bare = text.replace(text[start:end], "<words/>").replace('<sound tempo="72"/>', "")
    (harbour / "bare.musicxml").write_text(bare, "utf-8")
    _, out, _ = run("check", "bare.musicxml", *BAND)
    assert "note tempo.assumed: assumed: no tempo is marked for the score: quarter = 120" in out
    assert run("check", "bare.musicxml", *BAND, "--tempo", "quarter = 72")[:2] == (0, "")
    assert "tempo.assumed" not in run("check", "bare.musicxml", *BAND, "--tempo", "half = 90")[1]


def test_a_configuration_is_found_above_the_score_and_options_go_first(run, harbour):
    (harbour / "reedchord.toml").write_text(
        '[check]\ncollection = "harbour-band.yaml"\nselect = ["speed"]\nfail-on = "error"\n',
        "utf-8",
    )
    (harbour / "scores").mkdir()
    (harbour / "scores" / "one.musicxml").write_bytes((harbour / MISTAKES).read_bytes())
    status, out, _ = run("check", "scores/one.musicxml")
    assert status == 1
    assert "speed.too-fast" in out
    assert "swap it for alto-slack-water" in out
    assert "marks.label" not in out
    assert run("check", "scores/one.musicxml", "--select", "marks")[0] == 0
    (harbour / "other.toml").write_text('[check]\nselect = ["marks"]\n', "utf-8")
    assert run("check", "scores/one.musicxml", "--config", "other.toml")[0] == 1


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("[check]\nselect = [,]\n", ["line 2", "is no TOML"]),
        ("[check]\nselct = []\n", ["'selct'", "Did you mean select"]),
        ("[chek]\n", ["'chek'", "Did you mean check"]),
        ("[check]\nselect = 'speed'\n", ["select", "list"]),
        ("[check]\nfail-on = 'never'\n", ["'never' is no severity", "error, warning, note"]),
        ("[check]\ncollection = 'none.yaml'\n", ["none.yaml", "no such file"]),
        ("[check]\ntempo = 'fast'\n", ["'fast' is no tempo"]),
    ],
)
def test_a_broken_configuration_ends_with_a_sentence(run, harbour, text, words):
    (harbour / "reedchord.toml").write_text(text, "utf-8")
    status, out, err = run("check", PLACED)
    assert (status, out) == (2, "")
    assert all(word in err for word in words), err
    assert "Traceback" not in err


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["--select", "sped"], "Did you mean speed"),
        (["--ignore", "speed.to-fast"], "Did you mean speed.too-fast"),
        (["--format", "xml"], "text, json, sarif"),
        (["--fail-on", "worst"], "no severity"),
        (["--tempo", "presto"], "no tempo"),
        (["--config", "none.toml"], "none.toml"),
        (["-c", "none.yaml"], "no such file"),
    ],
)
def test_what_cannot_be_asked_ends_with_a_sentence(run, harbour, arguments, words):
    status, out, err = run("check", PLACED, *arguments)
    assert (status, out) == (2, "")
    assert words in err
    assert "Traceback" not in err


def test_scores_that_cannot_be_read_are_told_and_the_others_checked(run, harbour):
    (harbour / "broken.musicxml").write_bytes(b"<score-partwise><part>")
    status, out, err = run(
        "check", "broken.musicxml", MISTAKES, "none.musicxml", "--select", "speed"
    )
    assert status == 2
    assert "speed.too-fast" in out
    assert "broken.musicxml" in err
    assert "none.musicxml: there is no such file" in err
    assert "1 error in 1 of 1 score; 2 could not be read" in err
    assert "no score could be read" in run("check", "none.musicxml")[2]


def test_many_scores_are_checked_in_processes_in_their_order(run, harbour):
    names = [f"{number}.musicxml" for number in range(12)]
    for name in names:
        source = MISTAKES if name.startswith("3") else PLACED
        (harbour / name).write_bytes((harbour / source).read_bytes())
    status, out, err = run("check", *names, *BAND, "--format", "json")
    scores = json.loads(out)["scores"]
    assert status == 1
    assert [score["score"] for score in scores] == names
    assert [len(score["findings"]) for score in scores] == [10 if n == 3 else 0 for n in range(12)]
    assert "\r" not in err  # nobody watches, so no bar is drawn


def test_standard_input_and_packages_are_checked_too(run, harbour, monkeypatch):
    from io import BytesIO, TextIOWrapper

    from reedchord.musicxml.packing import new_package

    data = (harbour / MISTAKES).read_bytes()
    monkeypatch.setattr("sys.stdin", TextIOWrapper(BytesIO(data)))
    assert run("check", "-", "--select", "speed")[0] == 1
    (harbour / "m.mxl").write_bytes(new_package(data))
    (one,) = found(run, "m.mxl", "--select", "speed")
    assert one["region"] is None  # lines are not those of the package
    (one,) = found(run, MISTAKES, "--select", "speed")
    bar = data.decode("utf-8").splitlines()[one["region"]["start_line"] - 1]
    assert '<measure number="8"' in bar


def test_a_progress_bar_is_drawn_where_somebody_watches(harbour):
    """Standard error is a terminal here, standard output a file."""
    for number in range(3):
        (harbour / f"{number}.musicxml").write_bytes((harbour / PLACED).read_bytes())
    environment = os.environ | {"PYTHONPATH": str(Path(__file__).parents[2] / "src")}
    reader, terminal = pty.openpty()
    line = [sys.executable, "-m", "reedchord", "check", *(f"{n}.musicxml" for n in range(3))]
    with (harbour / "out.txt").open("wb") as out:
        done = subprocess.run(
            line, stdout=out, stderr=terminal, check=False, cwd=harbour, env=environment
        )
    os.close(terminal)
    drawn = os.read(reader, 100_000).decode()
    os.close(reader)
    assert done.returncode == 0, drawn
    assert "100%" in drawn
    assert (harbour / "out.txt").read_bytes() == b""


def test_the_hooks_for_pre_commit_call_commands_that_exist(run, harbour):
    """Fields by https://pre-commit.com, "Creating new hooks": id, name, entry, language."""
    text = (Path(__file__).parents[2] / ".pre-commit-hooks.yaml").read_text("utf-8")
    hooks = YAML(typ="safe").load(text)
    assert len(hooks) == 2
    for hook in hooks:
        assert {"id", "name", "entry", "language", "files"} <= hook.keys()
        program, *command = hook["entry"].split()
        assert (program, hook["language"]) == ("reedchord", "python")
        assert run(*command, "--help")[0] == 0
    names = sorted(path.name for path in harbour.iterdir())
    chosen = [name for name in names if re.search(hooks[0]["files"], name)]
    assert chosen == ["harbour-lights-mistakes.musicxml", PLACED, "harbour-lights.musicxml"]
    assert re.search(hooks[1]["files"], "sonorities/band.yaml")


def test_what_a_set_up_tried_counts(harbour, run):
    trial = [
        "trial",
        "alto-slack-water",
        "--set-up",
        "harbour-alto.yaml",
        "-c",
        "harbour-band.yaml",
    ]
    assert run(*trial, "--date", "2031-03-04", "--outcome", "did not speak")[0] == 0
    checked = ["check", "harbour-lights-placed.musicxml", "-c", "harbour-band.yaml"]
    assert run(*checked)[0] == 0
    status, out, _ = run(*checked, "--set-up", "harbour-alto.yaml")
    assert status == 1
    said = "error trial.silent: beat 1: M2 alto-slack-water did not speak on 2031-03-04"
    assert f"{said}, with harbour-alto" in out
    assert "alto-slack-water: " not in out.split("-> swap it for", 1)[-1]
    status, _, err = run(*checked, "--log", "harbour-alto-trials.yaml")
    assert (status, "a log needs its set-up" in err) == (2, True)


def test_what_came_otherwise_is_told_until_the_score_follows(harbour, run):
    oda = ["--set-up", "harbour-alto.yaml"]
    trial = ["trial", "alto-slack-water", *oda, "-c", "harbour-band.yaml", "--outcome", "spoke"]
    checked = ["check", "-c", "harbour-band.yaml", *oda]
    assert run(*trial, "--date", "2031-03-04")[0] == 0
    assert run(*checked, PLACED)[0] == 0  # it came as it stands there: no more than evidence rises
    assert run(*trial, "--date", "2031-03-05", "--tone", "2 = D5-48 ±2")[0] == 0
    status, out, _ = run(*checked, PLACED)
    assert status == 1
    assert "warning trial.otherwise: beat 1: M2 alto-slack-water came otherwise with" in out
    assert "tone 2: measured D5 −48¢ ±2¢, −30 cents (in the score: D5 −18¢)" in out
    assert "marks.source" not in out
    assert run("follow", PLACED, *oda, "-o", "follows.musicxml")[0] == 0
    assert run(*checked, "follows.musicxml")[0] == 0

"""Standard input and output through real pipes, and scores in other formats."""

import os
import subprocess
import sys

import pytest

from reedchord.musicxml.document import read_score

ABC = "X:1\nT:Harbour Tune, invented for this test\nM:4/4\nL:1/4\nK:C\nC D E F|z4|G A B c|]\n"
BAND = ["-c", "harbour-band.yaml"]
SCORE, PLACED = "harbour-lights.musicxml", "harbour-lights-placed.musicxml"


def piped(file, *commands):
    """Run commands at once, each reading what the one before writes; return the last output."""
    env = {**os.environ, "PYTHONPATH": os.pathsep.join(path for path in sys.path if path)}
    streams = [open(file, "rb")]  # noqa: SIM115, PTH123
    running = []
    for command in commands:
        process = subprocess.Popen(
            [sys.executable, "-m", "reedchord", *command],
            stdin=streams[-1],
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            env=env,
        )
        streams[-1].close()
        streams.append(process.stdout)
        running.append(process)
    output = streams[-1].read()
    streams[-1].close()
    assert [process.wait() for process in running] == [0] * len(commands)
    return output


def test_place_swap_swap_back_and_strip_in_one_pipe(harbour):
    there = ["swap", "-", "M2", "alto-rope-walk", *BAND, "-o", "-"]
    back = ["swap", "-", "alto-rope-walk", "alto-slack-water", *BAND, "-o", "-"]
    place = ["place", "-", "--plan", "harbour-plan.yaml", "-o", "-"]
    score = (harbour / SCORE).read_bytes()
    placed = (harbour / PLACED).read_bytes()
    assert piped(SCORE, place) == placed
    assert piped(SCORE, place, there, back) == placed
    assert piped(SCORE, place, there, ["strip", "-", "-o", "-"]) == score


@pytest.mark.parametrize("command", ["plan", "footnotes"])
def test_what_only_reads_reads_standard_input_too(harbour, run, command):
    _, out, _ = run(command, PLACED)
    assert piped(PLACED, [command, "-"]).decode() == out
    assert piped(PLACED, [command, "-", "-o", "-"]).decode() == out


def test_a_packed_score_comes_through_a_pipe_as_it_is(harbour, run):
    assert run("place", SCORE, "--plan", "harbour-plan.yaml", "-o", "placed.mxl")[0] == 0
    assert run("strip", "placed.mxl", "-o", "plain.mxl")[0] == 0
    packed = piped("placed.mxl", ["strip", "-", "-o", "-"])
    assert packed == (harbour / "plain.mxl").read_bytes()


def test_a_score_in_another_format_is_refused_with_the_offer_to_convert_it(harbour, run):
    (harbour / "tune.abc").write_text(ABC, "utf-8")
    request = ["alto-slack-water", *BAND, "-p", "@", "-b", "2"]
    status, out, err = run("place", "tune.abc", *request, "-o", "o.musicxml")
    assert (status, out) == (2, "")
    assert "tune.abc: this is ABC, not MusicXML" in err
    assert "--convert" in err


def test_a_converted_score_is_placed_in_and_said_to_be_converted(harbour, run):
    (harbour / "tune.abc").write_text(ABC, "utf-8")
    request = [
        "alto-slack-water",
        *BAND,
        "-p",
        "P1",
        "-b",
        "@2",
        "--saxophone",
        "alto",
        "--convert",
    ]
    status, _, err = run("place", "tune.abc", *request, "-o", "o.musicxml")
    assert status == 0
    assert "note: converted from ABC to MusicXML by music21: this is not the score itself" in err
    written = (harbour / "o.musicxml").read_bytes()
    assert read_score(written).parts[0].bars[1].element.find("note/footnote") is not None
    assert piped("tune.abc", ["place", "-", *request, "-o", "-"]) == written
    (harbour / "tune.abc").write_text(ABC, "utf-8")
    for output in (["--in-place"], ["-o", "o.abc"]):
        status, _, err = run("place", "tune.abc", *request, *output)
        assert (status, "cannot be written to" in err) == (2, True)
    assert (harbour / "tune.abc").read_text("utf-8") == ABC


def test_convert_leaves_musicxml_alone(harbour, run):
    arguments = ["--plan", "harbour-plan.yaml", "--convert", "-o", "o.musicxml"]
    status, _, err = run("place", SCORE, *arguments)
    assert (status, "converted" in err) == (0, False)
    assert (harbour / "o.musicxml").read_bytes() == (harbour / PLACED).read_bytes()

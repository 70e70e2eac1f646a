"""`find` and `neighbours` as a composer meets them."""

from __future__ import annotations

import json

import pytest

IN_BAND = ["-c", "harbour-band.yaml"]

pytestmark = pytest.mark.usefixtures("harbour")


def test_find_for_programs(run):
    status, out, _ = run("find", *IN_BAND, "--concert", "F4", "--saxophone", "alto", "--json")
    assert status == 0
    assert [one["sonority"] for one in json.loads(out)["results"]] == ["alto-slack-water"]


def test_any_saxophone_is_every_one(run):
    wish = ["find", *IN_BAND, "--concert", "F4", "--json"]
    everywhere = run(*wish)
    assert run(*wish, "--saxophone", "any") == everywhere
    assert run(*wish, "--saxophone", "alto", "--saxophone", "Any") == everywhere
    assert json.loads(everywhere[1])["fitting"] > 1


def test_nothing_found_is_status_1_with_the_nearest(run):
    wishes = ["--concert", "Eb4 Bb4", "--at", "ff", "--saxophone", "alto"]
    status, out, err = run("find", *IN_BAND, *wishes)
    assert (status, err) == (1, "")
    assert "The nearest:" in out
    assert "ruled out by dynamic: it speaks at p-f, not at ff" in out
    status, out, _ = run("find", *IN_BAND, *wishes, "--json")
    assert status == 1
    assert json.loads(out)["nearest"][0]["ruled_out_by"][0]["wish"] == "dynamic"


@pytest.mark.parametrize(
    ("wishes", "words"),
    [
        (["--concert", "F4 H5"], "'H5' is no pitch: column 4 should be a step"),
        (["--concert", "F4 C"], "Add the octave, as in C4, or wish for pitch classes"),
        (["--concert", "F4", "--saxophone", "kazoo"], "sopranino, soprano, alto, C melody"),
        (["--concert", "F4", "--written", "D5"], "--concert or --written, not both"),
        (["--concert", "F4 A5", "--tones", "1"], "2 pitches cannot sound in 1 tones"),
        (["--connects-to", "alto-slack"], "Did you mean alto-slack-water"),
        ([], "nothing is wished"),
    ],
)
def test_bad_wishes_are_status_2(run, wishes, words):
    status, out, err = run("find", *IN_BAND, *wishes)
    assert (status, out) == (2, "")
    assert words in err


def test_neighbours_for_programs(run):
    status, out, _ = run("neighbours", "alto-slack-water", *IN_BAND, "--json", "--most", "0")
    assert status == 0
    data = json.loads(out)
    assert [near["sonority"] for near in data["documented"]] == ["alto-tide-mill", "alto-lantern"]
    assert data["computed"] == []


def test_neighbours_of_nothing(run):
    status, _, err = run("neighbours", "alto-slack", *IN_BAND)
    assert status == 2
    assert "alto-slack-water" in err

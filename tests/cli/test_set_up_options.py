"""`--set-up` where it is offered: what was tried goes first, what is documented beside it."""

import json

import mido
import pytest

from oda import HEAD, SET_UP_TEXT

BAND = ["-c", "harbour-band.yaml", "--set-up", "oda.yaml"]
TRIALS = """\
  - {date: 2031-11-25, sonority: alto-lantern, outcome: did not speak}
  - date: 2031-11-25
    sonority: alto-slack-water
    outcome: spoke
    tones: [{tone: 2, measured: D5-30, uncertainty_cents: 2}]
    limits: [{articulation: single tongue, fastest: 16th at quarter = 60}]
"""


@pytest.fixture
def oda(harbour):
    (harbour / "oda.yaml").write_text(SET_UP_TEXT, "utf-8")
    (harbour / "oda-trials.yaml").write_text(HEAD + TRIALS, "utf-8")
    return harbour


def test_show_has_both(run, oda):
    status, out, err = run("show", "alto-slack-water", *BAND)
    assert (status, err) == (0, "")
    assert "2     D5 −30¢  F4 −30¢" in out
    assert "Differs     tone 2: measured D5 −30¢ ±2¢, −12 cents; documented D5 −18¢" in out
    assert "Tried       spoke in 1 of 1 trial; 2031-11-25: spoke (oda-alto)" in out
    assert "Evidence    tried" in out


def test_show_says_what_did_not_speak_and_what_was_not_tried(run, oda):
    _, out, _ = run("show", "alto-lantern", *BAND)
    assert "did not speak (oda-alto)" in out
    assert "Evidence    invented" in out
    _, out, _ = run("show", "alto-tide-mill", *BAND)
    assert "Tried       not with oda-alto" in out
    _, _, err = run("show", "tenor-slipway", *BAND)
    assert "oda-alto is a set-up of alto" in err


def test_find_ranks_what_was_tried_and_leaves_out_what_did_not_speak(run, oda):
    wish = ["--concert", "F4-30", "--saxophone", "alto"]
    status, out, err = run("find", *BAND, *wish, "--json")
    assert status == 0
    first = json.loads(out)["results"][0]
    assert (first["sonority"], first["met"][0]["cents"]) == ("alto-slack-water", 0)
    assert "alto-lantern" not in out
    assert "alto-lantern did not speak on 2031-11-25 and is left out" in err
    _, out, _ = run("find", *BAND, *wish)
    assert "differs: tone 2: measured D5 −30¢" in out
    _, out, _ = run("find", *BAND, *wish, "--evidence", "tried")
    assert out.startswith("1 of ")


def test_chain_plays_only_what_speaks(run, oda):
    row = ["--concert", "Eb4 D5; F4 C5", "--saxophone", "alto"]
    _, before, _ = run("chain", "-c", "harbour-band.yaml", *row)
    status, out, _ = run("chain", *BAND, *row)
    assert status == 0
    assert "alto-lantern" in before
    assert "alto-lantern" not in out
    assert "tried: spoke in 1 of 1 trial" in out


def test_footnotes_print_what_was_tried(run, oda):
    _, out, _ = run("footnotes", "harbour-lights-placed.musicxml", "--set-up", "oda.yaml")
    text = " ".join(out.split())
    assert "2 written D5 −30¢" in text
    assert "documented D5 −18¢" in text
    assert "Tried: spoke in 1 of 1 trial" in text


def test_what_is_heard_and_practised_is_what_was_tried(run, oda):
    for command, out in (("hear", "s.mid"), ("practice", "s.musicxml")):
        status, _, err = run(command, "alto-slack-water", *BAND, "-o", out)
        assert status == 0, err
        assert "note: alto-slack-water: spoke in 1 of 1 trial; 2031-11-25" in err
    bends = [one.pitch for one in mido.MidiFile(oda / "s.mid") if one.type == "pitchwheel"]
    assert round(-30 / 200 * 8192) in bends  # of 200 cents either way (MIDI 1.0)
    # D5−30 stands as a quarter tone flat, 20 cents above it.
    assert "<text>+20</text>" in (oda / "s.musicxml").read_text("utf-8")
    status, _, err = run("hear", "harbour-lights-placed.musicxml", *BAND, "-o", "s.wav")
    assert (status, "--set-up cannot be said of a score" in err) == (2, True)


def test_a_log_needs_its_set_up(run, oda):
    status, _, err = run("show", "alto-lantern", "-c", "harbour-band.yaml", "--log", "x.yaml")
    assert (status, "a log needs its set-up" in err) == (2, True)


def test_unknown_sonorities_in_a_log_are_told(run, oda):
    stray = "  - {date: 2031-11-25, sonority: alto-lantrn, outcome: spoke}\n"
    (oda / "oda-trials.yaml").write_text(HEAD + TRIALS + stray, "utf-8")
    placed = "harbour-lights-placed.musicxml"
    for command in (
        ("find", "--concert", "F4"),
        ("follow", placed, "--dry-run"),
        ("sheet", placed, "-o", "sheet.html"),
    ):
        _, _, err = run(*command, *BAND)
        told = "a trial of 'alto-lantrn', which is not known here; did you mean alto-lantern?"
        assert err.count("which is not known here") == err.count(told) == 1, command


@pytest.fixture
def sheet(run, oda):
    """Return a function that writes the demonstration's sheet and gives its text."""

    def written(*options):
        asked = ("sheet", "harbour-lights-placed.musicxml", *BAND[:2], *options)
        assert run(*asked, "-o", "sheet.html")[0] == 0
        text = (oda / "sheet.html").read_text("utf-8")
        return " ".join(text.replace("\xa0", " ").split())

    return written


def test_the_sheet_tells_both(sheet):
    tried, documented = sheet(*BAND[2:]), sheet()
    assert "measured D5 −30¢ ±2¢, −12 cents; documented D5 −18¢" in tried
    assert "<td>D5 −30¢</td><td>F4 −30¢</td>" in tried
    assert "<td>D5 −18¢</td><td>F4 −18¢</td>" in documented
    assert 'value="O. D."' in tried
    assert "value=" not in documented


def test_the_sheet_offers_nothing_that_did_not_speak(sheet, oda):
    offered = "<strong>Tide mill (alto-tide-mill)</strong>: easy, one finger"
    assert offered in sheet(*BAND[2:])
    silent = "  - {date: 2031-11-25, sonority: alto-tide-mill, outcome: did not speak}\n"
    (oda / "oda-trials.yaml").write_text(HEAD + silent, "utf-8")
    assert offered not in sheet(*BAND[2:])

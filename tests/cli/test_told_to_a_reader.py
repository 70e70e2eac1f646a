"""`--british` and `--pitch-names`: wherever pitches are told, and nowhere where they are kept."""

import json
import shutil

import pytest

from oda import HEAD, SET_UP_TEXT
from typed_chords import typed_by_hand

TRIALS = """\
  - date: 2031-11-25
    sonority: alto-shingle
    outcome: spoke
    tones: [{tone: 1, came_at: []}]
"""


def test_the_history_in_a_score_is_the_same_for_everybody(harbour, run):
    (harbour / "oda.yaml").write_text(SET_UP_TEXT, "utf-8")
    (harbour / "oda-trials.yaml").write_text(HEAD + TRIALS, "utf-8")
    shingle = ["alto-shingle", "-c", "harbour-band.yaml", "--part", "P2", "--bar", "5"]
    assert run("place", "harbour-lights.musicxml", *shingle, "-o", "placed.musicxml")[0] == 0
    asked = ["follow", "placed.musicxml", "--set-up", "oda.yaml", "-o"]
    status, _, usual = run(*asked, "usual.musicxml")
    assert (status, "tone 1, B♭3 +33¢, did not come" in usual) == (0, True)
    status, _, german = run(*asked, "german.musicxml", "--british", "--pitch-names", "german")
    assert (status, "tone 1, B3 +33¢, did not come" in german) == (0, True)
    assert (harbour / "german.musicxml").read_bytes() == (harbour / "usual.musicxml").read_bytes()
    assert "tone 1, B♭3 +33¢, did not come" in run("follow", "usual.musicxml", "--history")[1]


IN_GERMAN = [
    (["find", "-c", "harbour-band.yaml", "--concert", "Bb3"], "B3 met by"),
    (["chain", "harbour-wishes.yaml"], "concert Es4"),
    (["carry", "alto-tide-mill", "-c", "harbour-band.yaml", "--to", "tenor"], "B3 −9¢"),
    (["match", "typed.musicxml", "-c", "harbour-band.yaml"], "tone 4, B5 −17¢"),
    (["check", "harbour-lights-mistakes.musicxml"], "H½♭3"),
    (["tuning", "harbour-lights-placed.musicxml"], "Es3 −40¢"),
    (["explore", "--from", "Bb4", "--saxophone", "alto", "--most", "1"], "Changes of B4"),
    (["show", "baritone-engine-room", "-c", "harbour-band.yaml"], "Cis6 +37¢"),
    (["footnotes", "harbour-lights-placed.musicxml"], "concert Es3"),
]


@pytest.mark.parametrize(("arguments", "german"), IN_GERMAN, ids=lambda one: one[0])
def test_every_command_that_tells_pitches_tells_them_in_german(harbour, run, arguments, german):
    placed = (harbour / "harbour-lights-placed.musicxml").read_bytes()
    (harbour / "typed.musicxml").write_bytes(typed_by_hand(placed))
    status, out, err = run(*arguments, "--pitch-names", "german")
    assert status in (0, 1), err
    assert german in " ".join(out.split())
    assert "H is B natural" in out + err
    usual = run(*arguments)[1]
    assert german not in " ".join(usual.split())


def test_several_processes_speak_to_the_same_reader(harbour, run):
    names = [f"copy-{number}.musicxml" for number in range(9)]
    for name in names:
        shutil.copy("harbour-lights-mistakes.musicxml", name)
    _, out, _ = run("check", *names, "--json", "--pitch-names", "german", "--british")
    told = [json.dumps(score, ensure_ascii=False) for score in json.loads(out)["scores"]]
    assert len(told) == 9
    assert all("H½♭3" in text and "quavers" in text for text in told)

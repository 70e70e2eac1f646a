"""`reedchord practice` as a player meets it."""

import pytest

BAND = ("-c", "harbour-band.yaml")
STEM = "alto-slack-water-practice"


def test_a_folder_gets_score_and_sound(harbour, run):
    status, out, err = run("practice", "alto-slack-water", *BAND, "-o", "for-monday")
    assert status == 0
    names = sorted(path.name for path in (harbour / "for-monday").iterdir())
    assert names == [f"{STEM}.musicxml", f"{STEM}.wav"]
    assert f"wrote for-monday/{STEM}.musicxml" in err
    assert "note: no dynamic is named: practised at mf" in err
    assert out.startswith("Advice: Steady air;")
    assert "Do not bite and do not force" in out
    assert "start playback at low volume" in out


@pytest.mark.parametrize(
    ("name", "beginning"),
    [("p.musicxml", b"<?xml"), ("p.wav", b"RIFF"), ("p.flac", b"fLaC"), ("p.mid", b"MThd")],
)
def test_the_ending_decides_the_format(harbour, run, name, beginning):
    status, _, _ = run("practice", "soprano-halyard", *BAND, "--at", "p", "-o", name)
    assert status == 0
    assert (harbour / name).read_bytes().startswith(beginning)


def test_the_score_can_be_used_like_any_other(harbour, run):
    run("practice", "alto-slack-water", *BAND, "-o", "p.musicxml")
    status, out, _ = run("footnotes", "p.musicxml")
    assert status == 0
    assert "Slack water" in out or "alto-slack-water" in out
    assert run("hear", "p.musicxml", "--bars", "1-3", "-o", "p.wav")[0] == 0


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (["alto-slack-water", *BAND, "-o", "p.txt"], "practice cannot be written to p.txt"),
        (["alto-slack-watr", *BAND, "-o", "p"], "Did you mean alto-slack-water"),
        (["alto-slack-water", *BAND, "--at", "loud", "-o", "p"], "'loud' is no dynamic mark"),
        (["alto-slack-water", *BAND, "-o", "harbour-band.yaml/p"], "the folder cannot be made"),
    ],
)
def test_mistakes_are_told(harbour, run, arguments, sentence):
    status, out, err = run("practice", *arguments)
    assert (status, out) == (2, "")
    assert sentence in err
    assert not (harbour / "p").exists()

"""What an option says and cannot be read is told with the option, in every command."""

import pytest

SLACK = ["alto-slack-water", "-c", "harbour-band.yaml"]
MISTAKES = "harbour-lights-mistakes.musicxml"
ROW = ["chain", "-c", "harbour-band.yaml", "--concert", "F4"]


@pytest.mark.parametrize(
    ("arguments", "option"),
    [
        (["check", MISTAKES, "--tempo", "fast"], "--tempo"),
        (["check", MISTAKES, "--select", "spee"], "--select"),
        (["check", MISTAKES, "--ignore", "spee"], "--ignore"),
        (["check", MISTAKES, "--fail-on", "all"], "--fail-on"),
        (["hear", *SLACK, "-o", "x.wav", "--at", "loud"], "--at"),
        (["hear", *SLACK, "-o", "x.wav", "--manner", "sung"], "--manner"),
        (["hear", *SLACK, "-o", "x.wav", "--emphasise", "9"], "--emphasise"),
        (["practice", *SLACK, "-o", "x.wav", "--at", "loud"], "--at"),
        (["carry", *SLACK, "--to", "flute"], "--to"),
        (["diagram", "--fingering", "left 9", "-o", "x.svg"], "--fingering"),
        (["diagram", "--fingering", "left 1", "--saxophone", "flute"], "--saxophone"),
        (["match", MISTAKES, "-c", "harbour-band.yaml", "--within", "near"], "--within"),
        (["match", MISTAKES, "-c", "harbour-band.yaml", "--saxophone", "flute"], "--saxophone"),
        (["find", "-c", "harbour-band.yaml", "--concert", "H4"], "--concert"),
        (["find", "-c", "harbour-band.yaml", "--tones", "99"], "--tones"),
        ([*ROW, "--tempo", "fast"], "--tempo"),
        ([*ROW, "--each", "long time"], "--each"),
        ([*ROW, "--at", "loud"], "--at"),
        ([*ROW, "--saxophone", "flute"], "--saxophone"),
    ],
    ids=lambda one: one if isinstance(one, str) else one[0],
)
def test_the_option_is_named_once(harbour, run, arguments, option):
    status, out, err = run(*arguments)
    assert (status, out) == (2, "")
    assert err.count("error: ") == 1
    assert f"error: {option}: " in err


def test_a_configuration_is_named_for_what_it_says_itself(harbour, run):
    (harbour / "reedchord.toml").write_text("[check]\ntempo = 'slow'\n", "utf-8")
    status, _, err = run("check", MISTAKES)
    assert status == 2
    assert "reedchord.toml, field tempo: 'slow' is no tempo" in err
    assert "error: --tempo: 'fast' is no tempo" in run("check", MISTAKES, "--tempo", "fast")[2]


def test_what_a_row_assumes_is_noted(harbour, run):
    _, _, err = run(*ROW, "--saxophone", "alto")
    assert "note: no --each says how long a harmony lasts: whole is assumed" in err
    assert "note: no --tempo is named: quarter = 60 is assumed" in err
    assert "note" not in run(*ROW, "--saxophone", "alto", "--each", "half", "--tempo", "72")[2]

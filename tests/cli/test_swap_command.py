"""`reedchord swap` as a composer meets it."""

import pytest

BAND = ["-c", "harbour-band.yaml"]
PLACED = "harbour-lights-placed.musicxml"


def test_swap_says_what_changes_for_the_player_and_back_gives_the_same_bytes(run, harbour):
    status, out, err = run("swap", PLACED, "M2", "alto-rope-walk", *BAND, "-o", "q.musicxml")
    assert (status, out) == (0, "")
    assert "M2 alto-slack-water becomes M2 alto-rope-walk at 2 places" in err
    assert "part P2 (Alto Saxophone), bar 5, beat 1" in err
    for change in ("fingering:", "tones:", "limits:", "dynamics:", "dropped"):
        assert change in err
    assert (
        run("swap", "q.musicxml", "alto-rope-walk", "alto-slack-water", *BAND, "--in-place")[0] == 0
    )
    assert (harbour / "q.musicxml").read_bytes() == (harbour / PLACED).read_bytes()


@pytest.mark.parametrize("look", ["--diff", "--dry-run"])
def test_looking_writes_nothing(run, harbour, look):
    before = sorted(harbour.iterdir())
    status, out, err = run("swap", PLACED, "M2", "alto-rope-walk", *BAND, look, "--bar", "9")
    assert (status, "at 1 place:" in err, "nothing was written" in err) == (1, True, True)
    assert ("+++ harbour-lights-placed.musicxml" in out) == (look == "--diff")
    assert sorted(harbour.iterdir()) == before


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["M9", "alto-rope-walk"], "no sonority 'M9'"),
        (["M2", "alto-rope-wolk"], "Did you mean alto-rope-walk"),
        (["M2", "alto-rope-walk", "--bar", "6"], "It stands in P2 bar 5 beat 1"),
        (["M2", "tenor-fog-signal"], "--carry"),
        (["M2", "alto-slack-water"], "is alto-slack-water already"),
    ],
)
def test_what_cannot_be_swapped_ends_with_a_sentence(run, harbour, arguments, words):
    status, out, err = run("swap", PLACED, *arguments, *BAND, "-o", "q.musicxml")
    assert (status, out) == (2, "")
    assert words in err
    assert not (harbour / "q.musicxml").exists()


def test_an_output_must_be_named(run, harbour):
    status, _, err = run("swap", PLACED, "M2", "alto-rope-walk", *BAND)
    assert (status, "no output is named" in err) == (2, True)

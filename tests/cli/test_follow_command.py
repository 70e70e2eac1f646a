"""`reedchord follow` as a player and a composer meet it."""

import pytest

from oda import HEAD, SET_UP_TEXT

SCORE = "harbour-lights-placed.musicxml"
ODA = ["--set-up", "oda.yaml"]
BAND = ["-c", "harbour-band.yaml"]
MEASURED = (
    "{date: 2031-11-25, sonority: alto-slack-water, outcome: spoke, "
    "tones: [{tone: 2, measured: D5-30}]}"
)
SILENT = "{date: 2031-11-25, sonority: alto-slack-water, outcome: did not speak}"


@pytest.fixture
def oda(harbour):
    (harbour / "oda.yaml").write_text(SET_UP_TEXT, "utf-8")

    def tried(row):
        (harbour / "oda-trials.yaml").write_text(f"{HEAD}  - {row}\n", "utf-8")

    tried(MEASURED)
    return tried


def test_the_score_follows_and_strips_to_what_it_was(run, harbour, oda):
    status, out, err = run("follow", SCORE, *ODA, *BAND, "-o", "mine.musicxml")
    assert (status, out) == (0, "")
    assert "M2 alto-slack-water: spoke in 1 of 1 trial" in err
    assert "tone 2: measured D5 −30¢, −12 cents; in the score D5 −18¢" in err
    assert run("follow", "mine.musicxml", "--history")[1].count("tone 2 was D5 −18¢") == 2
    assert run("follow", SCORE, "--history")[1] == "nothing was changed by trials\n"
    assert run("strip", "mine.musicxml", "-o", "bare.musicxml")[0] == 0
    bare = (harbour / "bare.musicxml").read_bytes()
    assert bare == (harbour / "harbour-lights.musicxml").read_bytes()


@pytest.mark.parametrize("look", ["--diff", "--dry-run"])
def test_looking_writes_nothing(run, harbour, oda, look):
    before = sorted(harbour.iterdir())
    status, out, err = run("follow", SCORE, *ODA, look)
    assert (status, "nothing was written" in err) == (1, True)
    assert ("+++ harbour-lights-placed.musicxml" in out) == (look == "--diff")
    assert sorted(harbour.iterdir()) == before


def test_nothing_is_swapped_unless_somebody_says_so(run, harbour, oda):
    oda(SILENT)
    status, _, err = run("follow", SCORE, *ODA, *BAND, "--dry-run")
    assert (status, "it stays until you choose" in err) == (0, True)
    chosen = ["--swap", "M2=alto-tide-mill", "-o", "mine.musicxml"]
    status, _, err = run("follow", SCORE, *ODA, *BAND, *chosen)
    assert (status, "M2 alto-slack-water becomes M2 alto-tide-mill at 2 places" in err) == (0, True)


def test_without_a_collection_it_says_where_to_look(run, harbour, oda):
    oda(SILENT)
    _, _, err = run("follow", SCORE, *ODA, "--dry-run")
    assert "name a collection" in err


def test_what_was_never_tried_is_told(run, harbour, oda):
    oda("{date: 2031-11-25, sonority: alto-lantern, outcome: spoke}")
    status, _, err = run("follow", SCORE, *ODA, "--dry-run")
    assert (status, "has tried none of the sonorities" in err) == (0, True)


MISTAKES = [
    (["-o", "x.musicxml"], "whose trials?"),
    ([*ODA], "no output is named"),
    ([*ODA, *BAND, "--swap", "M2", "--dry-run"], "no swap"),
    ([*ODA, *BAND, "--swap", "M2=alto-tide-mil", "--dry-run"], "Did you mean alto-tide-mill"),
    ([*ODA, *BAND, "--swap", "M1=alto-tide-mill", "--dry-run"], "M1 is not among"),
]


@pytest.mark.parametrize(("arguments", "words"), MISTAKES)
def test_mistakes_are_told(run, harbour, oda, arguments, words):
    status, out, err = run("follow", SCORE, *arguments)
    assert (status, out) == (2, "")
    assert words in err
    assert not (harbour / "x.musicxml").exists()

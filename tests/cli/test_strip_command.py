"""`reedchord strip` on scores that were edited since."""

import pytest

PLACED = "harbour-lights-placed.musicxml"


@pytest.fixture
def edited(harbour):
    """Return the placed score after somebody changed its title."""
    file = harbour / PLACED
    file.write_bytes(file.read_bytes().replace(b"Harbour Lights<", b"Harbour Lights, 2nd<"))
    return file


def test_an_edited_score_keeps_the_edit_and_loses_all_of_ours(run, harbour, edited):
    status, _, err = run("strip", PLACED, "-o", "back.musicxml")
    assert status == 0
    assert "placements taken out: 7" in err
    assert "edited since: the bytes from before are not known" in err
    original = (harbour / "harbour-lights.musicxml").read_bytes()
    expected = original.replace(b"Harbour Lights<", b"Harbour Lights, 2nd<")
    assert (harbour / "back.musicxml").read_bytes() == expected


def test_a_chord_that_was_edited_stays_and_the_status_says_so(run, harbour, edited):
    data = edited.read_bytes()
    start = data.index(b'id="rc-1-1"')
    step = data.index(b"<step>", start)
    edited.write_bytes(data[:step] + b"<step>B" + data[step + len(b"<step>E") :])
    status, _, err = run("strip", PLACED, "-o", "back.musicxml")
    assert status == 1
    assert "placements taken out: 6" in err
    assert "M1 is edited" in err
    assert "E½♯4 is gone" in err
    footnotes = run("footnotes", "back.musicxml")[1]
    assert "tenor" in footnotes
    assert "baritone" not in footnotes


def test_a_score_without_sonorities(run, harbour):
    status, _, err = run("strip", "harbour-lights.musicxml", "-o", "x.xml")
    assert (status, "holds no sonorities of ours" in err) == (2, True)
    assert not (harbour / "x.xml").exists()


@pytest.mark.parametrize("look", ["--diff", "--dry-run"])
def test_looking_writes_nothing(run, harbour, look):
    before = sorted(harbour.iterdir())
    status, out, err = run("strip", PLACED, look)
    assert (status, "placements taken out: 7" in err, "nothing was written" in err) == (
        1,
        True,
        True,
    )
    assert ("-      <direction" in out) == (look == "--diff")
    assert sorted(harbour.iterdir()) == before

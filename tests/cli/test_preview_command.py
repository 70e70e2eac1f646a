"""`reedchord preview` as a musician meets it."""

import pytest

SCORE = "harbour-lights-placed.musicxml"
BARE = "harbour-lights.musicxml"


@pytest.mark.parametrize(
    ("name", "beginning"),
    [
        ("bars.svg", b"<svg "),
        ("bars.PNG", b"\x89PNG"),
        ("bars.pdf", b"%PDF-"),
        ("bars.html", b"<!DOCTYPE html>"),
    ],
)
def test_the_ending_decides_the_format(harbour, run, name, beginning):
    status, out, err = run("preview", SCORE, "--bars", "5", "--part", "Alto Saxophone", "-o", name)
    assert (status, out) == (0, "")
    assert err == f"wrote {name}: bar 5; 1 marked\n"
    assert (harbour / name).read_bytes().startswith(beginning)


def test_a_plan_is_placed_in_memory_and_the_score_stays(harbour, run):
    was = (harbour / BARE).read_bytes()
    status, _, err = run(
        "preview", BARE, "--plan", "harbour-plan.yaml", "--before-after", "-o", "bars.svg"
    )
    assert status == 0
    assert "wrote bars.svg: bars 2 to 12; 7 marked" in err
    assert (harbour / BARE).read_bytes() == was
    assert ">Before</text>" in (harbour / "bars.svg").read_text("utf-8")


def test_bars_of_a_score_without_sonorities(harbour, run):
    status, _, err = run("preview", BARE, "--bars", "1-2", "-o", "bars.svg")
    assert (status, err) == (0, "wrote bars.svg: bars 1 to 2; 0 marked\n")
    status, _, err = run("preview", BARE, "--bars", "1-2", "--before-after", "-o", "both.svg")
    assert status == 2
    assert "the score holds no sonorities of ours" in err


@pytest.mark.parametrize(
    ("arguments", "sentence", "hint"),
    [
        ([BARE, "-o", "a.svg"], "the score holds no sonorities of ours", "reedchord place"),
        ([SCORE, "--bars", "13", "-o", "a.svg"], "has no bar 13", "labelled 1 to 12"),
        ([SCORE, "--bars", "9-5", "-o", "a.svg"], "bar 9 comes after bar 5", "5-9"),
        ([SCORE, "--bars", "5-", "-o", "a.svg"], "'5-' names no bars", "10-14"),
        ([SCORE, "--bars", "", "-o", "a.svg"], "'' names no bars", "10-14"),
        ([SCORE, "--part", "Oboe", "-o", "a.svg"], "there is no part 'Oboe'", "The parts are"),
        ([SCORE, "-o", "a.gif"], "a preview cannot be written to a.gif", ".svg, .png, .pdf, .html"),
        ([SCORE, "-o", "a"], "a preview cannot be written to a", ".svg, .png, .pdf, .html"),
        ([SCORE, "--paper", "a3", "-o", "a.pdf"], "'a3' is no size of paper", "a4"),
        (["nowhere.musicxml", "-o", "a.svg"], "there is no such file", ""),
        ([SCORE, "-o", "nowhere/a.svg"], "cannot be written: there is no folder nowhere", ""),
    ],
)
def test_mistakes_are_told_with_what_would_be_right(harbour, run, arguments, sentence, hint):
    status, out, err = run("preview", *arguments)
    assert (status, out) == (2, "")
    assert sentence in err
    assert hint in err
    assert not list(harbour.glob("a*"))

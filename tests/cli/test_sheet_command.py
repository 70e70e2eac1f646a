"""`reedchord sheet` as a musician meets it."""

import pytest

SCORE = "harbour-lights-placed.musicxml"
BARE = "harbour-lights.musicxml"


@pytest.mark.parametrize(
    ("name", "beginning"), [("sheet.html", b"<!DOCTYPE html>"), ("sheet.PDF", b"%PDF-")]
)
def test_the_ending_decides_the_format(harbour, run, name, beginning):
    status, out, err = run("sheet", SCORE, "-c", "harbour-band.yaml", "-o", name)
    assert (status, out) == (0, "")
    assert err == f"wrote {name}: M1, M2, M3, M4, M5, M6\n"
    assert (harbour / name).read_bytes().startswith(beginning)


def test_a_plan_brings_its_own_collection(harbour, run):
    was = (harbour / BARE).read_bytes()
    status, _, err = run("sheet", BARE, "--plan", "harbour-plan.yaml", "-o", "sheet.html")
    assert status == 0
    assert "no collection" not in err
    assert (harbour / BARE).read_bytes() == was
    assert "Slipway (tenor-slipway)" in (harbour / "sheet.html").read_text("utf-8")


def test_without_a_collection_it_says_so_here_and_on_the_sheet(harbour, run):
    status, _, err = run("sheet", SCORE, "-o", "sheet.html", "--british")
    assert status == 0
    assert "note: no collection was named, so the sheet offers no alternatives" in err
    page = (harbour / "sheet.html").read_text("utf-8")
    assert "No collection was named" in page
    assert "semiquavers at crotchet = 72" in page.replace("\N{NO-BREAK SPACE}", " ")


@pytest.mark.parametrize(
    ("arguments", "sentence", "hint"),
    [
        ([BARE, "-o", "a.html"], "the score holds no sonorities of ours", "reedchord place"),
        ([SCORE, "-o", "a.svg"], "a sheet cannot be written to a.svg", ".html, .pdf"),
        ([SCORE, "-o", "a"], "a sheet cannot be written to a", ".html, .pdf"),
        ([SCORE, "--paper", "legal", "-o", "a.pdf"], "'legal' is no size of paper", "letter"),
        ([SCORE, "-c", "nowhere.yaml", "-o", "a.pdf"], "nowhere.yaml", ""),
        ([SCORE, "-o", "nowhere/a.pdf"], "cannot be written", ""),
    ],
)
def test_mistakes_are_told_with_what_would_be_right(harbour, run, arguments, sentence, hint):
    status, out, err = run("sheet", *arguments)
    assert (status, out) == (2, "")
    assert sentence in err
    assert hint in err
    assert not list(harbour.glob("a*"))

"""`reedchord footnotes` as an engraver meets it."""

from __future__ import annotations

import io
import sys

import pytest
from lxml import etree
from pypdf import PdfReader

PLACED = "harbour-lights-placed.musicxml"


@pytest.fixture
def footnotes(run, harbour):
    """Return a function that runs `reedchord footnotes` on the demonstration's score."""
    return lambda *arguments: run("footnotes", PLACED, *arguments)


@pytest.mark.parametrize("form", ["text", "markdown", "html"])
def test_they_hold_only_what_appears_in_order(footnotes, form):
    status, out, _ = footnotes("--format", form)
    assert status == 0
    names = ("Ferry bell", "Slack water", "Engine room", "Slipway", "Mooring line", "Halyard")
    places = [out.index(name) for name in names]
    assert places == sorted(places)
    out = out.replace("\u00a0", " ")
    for words in ("left hand", "emphasised", "16ths at quarter", "oncert", "invented", "Dowle"):
        assert words in out
    assert "soprano-gull" not in out
    assert "bar 3, beat 3, only tones 1, 2 and 3, tone 3 emphasised" in out


def test_the_block_for_the_last_page(footnotes):
    _, out, _ = footnotes("-f", "block")
    lines = out.splitlines()
    assert len(lines) == 6
    assert lines[3] == (
        "M4 = octave | L 1 2 3 | R 1 2 - low C (Brask and Dowle 2025, p. 15, no. 21, invented)"
    )
    _, narrow, _ = footnotes("-f", "block", "--width", "40")
    assert max(map(len, narrow.splitlines())) <= 40


def test_british_words_and_german_names(footnotes):
    assert "crotchet" in footnotes("--british")[1]
    _, out, _ = footnotes("--pitch-names", "german")
    assert "H5 +14¢" in out
    assert "♭" not in out


@pytest.mark.parametrize(
    ("name", "beginning"),
    [
        ("notes.pdf", b"%PDF-"),
        ("notes.svg", b"<svg "),
        ("notes.html", b"<!DOCTYPE html>"),
        ("notes.md", b"# Fingering footnotes: Harbour Lights"),
        ("notes.txt", b"Fingering footnotes: Harbour Lights"),
    ],
)
def test_the_ending_decides_the_format(footnotes, harbour, name, beginning):
    status, out, err = footnotes("-o", name)
    assert (status, out) == (0, "")
    assert err.startswith(f"wrote {name}: 6 footnotes\n")
    assert ("Do not bite" in err) is (name == "notes.svg")
    assert (harbour / name).read_bytes().startswith(beginning)


@pytest.mark.parametrize(("paper", "height"), [("a4", 842), ("letter", 792)])
def test_paper_of_a_pdf(footnotes, harbour, paper, height):
    footnotes("-o", "notes.pdf", "--paper", paper)
    (page, *_) = PdfReader(io.BytesIO((harbour / "notes.pdf").read_bytes())).pages
    assert float(page.mediabox.height) == pytest.approx(height, abs=0.5)


def test_an_svg_block_has_the_width_that_was_asked_for(footnotes):
    status, out, _ = footnotes("-f", "svg", "--width-mm", "120")
    assert status == 0
    assert etree.fromstring(out.encode()).get("width") == "120mm"


def test_a_pdf_is_not_poured_into_a_terminal(footnotes, monkeypatch):
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True)
    status, out, err = footnotes("-f", "pdf")
    assert (status, out) == (2, "")
    assert "-o footnotes.pdf" in err


@pytest.mark.parametrize(
    ("arguments", "sentence", "hint"),
    [
        (["-f", "pfd"], "--format: 'pfd' is no format", "Did you mean pdf?"),
        (["-o", "notes.xyz"], "footnotes cannot be written to notes.xyz", ".html"),
        (
            ["-f", "pdf", "-o", "notes.svg"],
            "the name of notes.svg says svg, but --format says pdf",
            "Leave",
        ),
        (["-f", "text", "-o", PLACED], "would overwrite", ""),
        (["-o", "notes.pdf", "--paper", "a5"], "'a5' is no size of paper", "a4, letter"),
        (["--pitch-names", "latin"], "is no style of pitch names", "english, german"),
        (["-f", "svg", "--width-mm", "30"], "30 mm wide is too narrow", "need"),
        (["-f", "block", "--width", "10"], "10 characters are too short", "need"),
        (["-f", "html", "--width", "60"], "--width is for the format text or block", "Leave"),
        (["-o", "nowhere/notes.pdf"], "cannot be written", ""),
    ],
)
def test_mistakes_are_explained_and_nothing_is_written(
    footnotes, harbour, arguments, sentence, hint
):
    before = {path: path.read_bytes() for path in harbour.iterdir()}
    status, out, err = footnotes(*arguments)
    assert (status, out) == (2, "")
    assert sentence in err
    assert hint in err
    assert {path: path.read_bytes() for path in harbour.iterdir()} == before


def test_a_score_without_sonorities(run, harbour):
    status, _, err = run("footnotes", "harbour-lights.musicxml", "-o", "notes.pdf")
    assert status == 2
    assert "reedchord place" in err
    assert not (harbour / "notes.pdf").exists()

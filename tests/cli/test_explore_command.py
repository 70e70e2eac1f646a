"""`reedchord explore` as a player meets it."""

import json

import pytest
from pypdf import PdfReader

from oda import SET_UP_TEXT

FROM_C = ["--from", "C4", "--saxophone", "alto", "--most", "5"]


def test_a_list_with_the_cautions(run, harbour):
    status, out, err = run("explore", *FROM_C)
    assert status == 0
    assert "lift right 1 (very easy)" in out
    assert "Do not bite" in err
    status, out, _ = run("explore", *FROM_C, "--json")
    assert len(json.loads(out)["to_try"]) == 5


def test_from_a_sonority_of_the_collection(run, harbour):
    status, out, _ = run("explore", "--from", "alto-slack-water", "-c", "harbour-band.yaml")
    assert status == 0
    assert "Changes of alto-slack-water on alto saxophone" in out
    assert "1 more stands in the collection already" in out


@pytest.mark.parametrize(
    ("name", "beginning"),
    [("try.html", b"<!DOCTYPE html>"), ("try.pdf", b"%PDF-"), ("try.yaml", b"# Fill in")],
)
def test_the_ending_decides_the_format(run, harbour, name, beginning):
    status, out, err = run("explore", *FROM_C, "-o", name)
    assert (status, out) == (0, "")
    assert f"wrote {name}: 5 fingerings to try" in err
    assert (harbour / name).read_bytes().startswith(beginning)


def test_a_key_alone_may_be_meant_as_a_note(run, harbour):
    status, _, err = run("explore", "--from", "low C", "--saxophone", "alto")
    assert status == 0
    assert "low C is the one key that is down; a note is named with its octave, as C4" in err
    assert "is the one key" not in run("explore", "--from", "B4", "--saxophone", "alto")[2]


def test_a_filled_list_goes_into_the_collection(run, harbour):
    (harbour / "oda.yaml").write_text(SET_UP_TEXT, "utf-8")
    run("explore", *FROM_C, "-o", "try.yaml")
    listed = (harbour / "try.yaml").read_text("utf-8")
    filled = listed.replace("tones: []", "tones: [{written: F#4-12}, {written: G5+31}]", 1)
    (harbour / "try.yaml").write_text(filled, "utf-8")
    mine = ["explore", "--filled", "try.yaml", "--set-up", "oda.yaml", "-o", "harbour-band.yaml"]
    status, _, err = run(*mine)
    assert (status, "17 sonorities" in err) == (0, True)
    assert "noted in oda-trials.yaml: alto-c4-01" in err
    status, out, _ = run("show", "alto-c4-01", "-c", "harbour-band.yaml", "--set-up", "oda.yaml")
    assert (status, "Evidence    tried" in out) == (0, True)
    assert "Tried       spoke in 1 of 1 trial" in out


def test_a_list_is_filled_in_day_by_day(run, harbour):
    (harbour / "oda.yaml").write_text(SET_UP_TEXT, "utf-8")
    run("explore", *FROM_C, "-o", "try.yaml")
    mine = ["explore", "--filled", "try.yaml", "--set-up", "oda.yaml", "-o", "mine.yaml"]
    told = []
    for _ in range(2):
        listed = (harbour / "try.yaml").read_text("utf-8")
        filled = listed.replace("tones: []", "tones: [{written: F#4-12}]", 1)
        (harbour / "try.yaml").write_text(filled, "utf-8")
        status, _, err = run(*mine)
        told.append(err.splitlines())
        assert status == 0
    assert "noted in oda-trials.yaml: alto-c4-01" in told[0]
    assert "note: alto-c4-01 stands in mine.yaml already, and stays as it is there" in told[1]
    assert "noted in oda-trials.yaml: alto-c4-02" in told[1]
    before = {path: path.read_bytes() for path in harbour.iterdir()}
    status, _, err = run(*mine)
    assert (status, "nothing new is filled in" in err) == (0, True)
    assert {path: path.read_bytes() for path in harbour.iterdir()} == before


def test_an_id_that_means_another_fingering_is_told_where_it_stands(run, harbour):
    (harbour / "oda.yaml").write_text(SET_UP_TEXT, "utf-8")
    run("explore", *FROM_C, "-o", "try.yaml")
    listed = (harbour / "try.yaml").read_text("utf-8")
    filled = listed.replace("alto-c4-01", "alto-lantern")
    filled = filled.replace("tones: []", "tones: [{written: F#4-12}]", 1)
    (harbour / "try.yaml").write_text(filled, "utf-8")
    line = 1 + next(n for n, text in enumerate(filled.splitlines()) if "alto-lantern" in text)
    band = ["-o", "harbour-band.yaml"]
    status, _, err = run("explore", "--filled", "try.yaml", "--set-up", "oda.yaml", *band)
    assert (status, f"try.yaml, line {line}, column 5" in err) == (2, True)
    assert "alto-lantern has another fingering in harbour-band.yaml" in err
    assert "Give it another id: alto-lantern-2." in err


def test_a_set_up_tells_the_saxophone_and_fills_in_the_head(run, harbour):
    (harbour / "oda.yaml").write_text(SET_UP_TEXT, "utf-8")
    mine = ["explore", "--from", "C4", "--set-up", "oda.yaml", "--most", "3"]
    status, out, _ = run(*mine)
    assert (status, "Changes of C4 on alto saxophone" in out) == (0, True)
    assert run(*mine, "-o", "try.html")[0] == run(*mine, "-o", "try.pdf")[0] == 0
    page = (harbour / "try.html").read_text("utf-8")
    assert 'value="O. D."' in page
    assert 'value="alto saxophone, borrowed from the boathouse"' in page
    pages = PdfReader(harbour / "try.pdf").pages
    assert "borrowed from the boathouse" in " ".join(pages[0].extract_text().split())
    status, _, err = run(*mine, "--saxophone", "tenor")
    assert (status, "C4 is for tenor, oda-alto is a set-up of alto" in err) == (2, True)


MISTAKES = [
    ([], "from what?"),
    (["--from", "G4"], "for which saxophone?"),
    ([*FROM_C, "-o", "harbour-plan.yaml"], "is there already"),
    ([*FROM_C, "-o", "try.txt"], "cannot be written to try.txt"),
    (["--filled", "harbour-plan.yaml"], "with which set-up"),
    ([*FROM_C, "--filled", "try.yaml"], "--from and --saxophone cannot be said together with"),
    ([*FROM_C, "--log", "log.yaml"], "--log cannot be said together with --from"),
    ([*FROM_C, "--set-up", "harbour-alt.yaml"], "Did you mean harbour-alto.yaml"),
    (["--filled", "t.yaml", "--set-up", "s.yaml", "-o", "t.txt"], "cannot be written to t.txt"),
]


@pytest.mark.parametrize(("arguments", "words"), MISTAKES)
def test_mistakes_are_told(run, harbour, arguments, words):
    before = {path: path.read_bytes() for path in harbour.iterdir()}
    status, out, err = run("explore", *arguments)
    assert (status, out) == (2, "")
    assert words in err
    assert {path: path.read_bytes() for path in harbour.iterdir()} == before

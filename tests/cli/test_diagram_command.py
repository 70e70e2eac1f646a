"""`reedchord diagram` as a musician meets it."""

from __future__ import annotations

from importlib.resources import files

import pytest
from lxml import etree

BAND = str(files("reedchord").joinpath("demo_data", "harbour-band.yaml"))
SLACK = ["alto-slack-water", "-c", BAND]


@pytest.fixture
def diagram(run, monkeypatch, tmp_path):
    """Return a function that runs `reedchord diagram` in a folder of its own."""
    monkeypatch.chdir(tmp_path)
    return lambda *arguments: run("diagram", *arguments)


@pytest.mark.parametrize("more", [[], ["-o", "-"]])
def test_a_sonority_of_a_collection_is_printed_as_svg(diagram, more):
    status, out, err = diagram(*SLACK, *more)
    assert (status, err) == (0, "")
    assert "Fingering of Slack water, alto saxophone" in out
    assert etree.fromstring(out.encode()).get("height") == "20mm"


@pytest.mark.parametrize(
    ("name", "beginning"), [("m1.svg", b"<svg "), ("m1.PNG", b"\x89PNG"), ("m1.pdf", b"%PDF-")]
)
def test_the_ending_decides_the_format(diagram, tmp_path, name, beginning):
    status, out, err = diagram(*SLACK, "-o", name, "--size", "footnote")
    assert (status, out) == (0, "")
    assert err.startswith(f"wrote {name}: left hand 1, 2 and 3; right hand 1, 3 and E flat; ")
    assert "by 12 mm" in err
    assert (tmp_path / name).read_bytes().startswith(beginning)


def test_without_a_collection_it_draws_from_the_demonstration_and_says_so(diagram, monkeypatch):
    monkeypatch.delenv("REEDCHORD_COLLECTION", raising=False)
    status, out, err = diagram(SLACK[0])
    assert (status, out) == (0, diagram(*SLACK)[1])
    assert "demonstration's sonorities, all invented" in err


@pytest.mark.parametrize(
    ("fingering", "warned"),
    [
        ("left 1, front F", "left index finger on B and front F: one finger does not commonly"),
        ("low A | left 1 2 3", "not every baritone saxophone has the low A key"),
    ],
)
def test_what_is_unusual_is_said_as_it_is_of_records(
    diagram, run, harbour, monkeypatch, fingering, warned
):
    monkeypatch.chdir(harbour)
    asked = ["--fingering", fingering, "--saxophone", "baritone", "-o", "m1.svg"]
    status, _, drawn = diagram(*asked)
    assert status == 0
    assert f"note: {warned}" in drawn
    text = (harbour / "harbour-band.yaml").read_text("utf-8")
    [was] = [line for line in text.splitlines() if "fingering: low A" in line]
    (harbour / "one.yaml").write_text(text.replace(was, f"    fingering: {fingering}"), "utf-8")
    told = run("collection", "check", "one.yaml")[2]
    assert f"baritone-engine-room: {warned}" in told


def test_a_fingering_without_a_collection(diagram):
    status, out, _ = diagram(
        "--fingering", "low A | L 12 | R 0", "--saxophone", "baritone", "--strip"
    )
    assert status == 0
    assert "<title>Fingering, baritone saxophone</title>" in out
    assert "<desc>low A key; left hand 1 and 2; right hand none</desc>" in out
    assert etree.fromstring(out.encode()).get("height") == "8mm"


@pytest.mark.parametrize(
    ("arguments", "sentence", "hint"),
    [
        ([], "a sonority is missing", "--fingering"),
        (["heron", "-c", BAND], "there is no sonority 'heron'", "There are: "),
        ([*SLACK, "-o", "m1.gif"], "a picture cannot be written to m1.gif", ".svg, .png, .pdf"),
        ([*SLACK, "-o", "m1"], "a picture cannot be written to m1", ".svg, .png, .pdf"),
        ([*SLACK, "-o", "nowhere/m1.svg"], "cannot be written", ""),
        ([*SLACK, "--size", "pages"], "'pages' is no size", "Did you mean page?"),
        ([*SLACK, "--saxophone", "tenor"], "has its own saxophone", "`carry`"),
        ([*SLACK, "--fingering", "L 1"], "are two fingerings", "Give one of them."),
        (["--fingering", "L 1 9"], "'9' at column 5 is no main key", "1, 2, 3"),
        (["--fingering", "L 1", "--saxophone", "zither"], "is no saxophone", "There are: "),
        (["--fingering", "low A", "--saxophone", "alto"], "no alto saxophone has it", "Leave"),
    ],
)
def test_mistakes_are_explained_and_nothing_is_written(
    diagram, tmp_path, arguments, sentence, hint
):
    status, out, err = diagram(*arguments)
    assert (status, out) == (2, "")
    assert err.startswith("error: ")
    assert sentence in err
    assert hint in err
    assert list(tmp_path.iterdir()) == []

"""`reedchord tuning` as it is typed."""

import json

import pytest

from ensemble_scores import heron_against
from samples import RESTS, note


@pytest.fixture
def placed(harbour, run):
    status, _, _ = run(
        "place", "harbour-lights.musicxml", "--plan", "harbour-plan.yaml", "-o", "placed.musicxml"
    )
    assert status == 0
    return harbour / "placed.musicxml"


def test_the_demonstration(placed, run):
    status, out, _ = run("tuning", placed)
    assert status == 0
    # The tenor's written B4 in bar 5 sounds A3 (220 Hz), tone 1 of Slack water A3 - 50 cents:
    # 220 - 213.74 = 6.26 beats a second, reckoned by hand from ISO 16.
    assert "tone 1 A3 −50¢  A3, Tenor Saxophone    unison        +50¢    6.3/s" in out
    assert "comparison inside one model" in " ".join(out.split())


def test_json_has_hertz_and_cents(placed, run):
    status, out, _ = run("tuning", placed, "--json", "--collection", "harbour-band.yaml")
    assert status == 0
    [first, *_] = json.loads(out)["placements"]
    assert first["pairs"][0]["other"]["part"] == "P5"
    assert first["pairs"][0]["hz"] == pytest.approx(155.5635 * 2 ** (-40 / 1200), abs=1e-3)
    assert "nearer" in first


@pytest.mark.parametrize("suffix", ["svg", "png", "pdf"])
def test_a_picture(placed, run, suffix):
    status, _, talk = run("tuning", placed, "-o", f"beats.{suffix}")
    assert status == 0
    assert f"wrote beats.{suffix}" in talk
    assert (placed.parent / f"beats.{suffix}").stat().st_size > 1000


def test_a_name_that_is_no_picture_is_told_before_anything_else(placed, run):
    status, out, talk = run("tuning", placed, "-o", "beats.gif")
    assert (status, out) == (2, "")
    assert ".svg, .png, .pdf" in talk


def test_only_against_one_part(placed, run):
    _, out, _ = run("tuning", placed, "--part", "Piano", "--only-emphasised")
    assert "Piano" in out
    assert "Alto Saxophone  " not in out
    assert "\n     tone" not in out


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (["bare.musicxml"], "holds no sonorities of ours"),
        (["placed.musicxml", "--part", "Pianola"], "Did you mean"),
        (["placed.musicxml", "--a4", "44"], "no pitch to tune to"),
        (["placed.musicxml", "--within", "-1"], "--within goes from 0 to 200 cents"),
        (["placed.musicxml", "-o", "beats.gif"], "a picture cannot be written to beats.gif"),
        (["placed.musicxml", "-o", "placed.svg"], None),
        (["missing.musicxml"], "there is no such file"),
        (["placed.musicxml", "-c", "missing.yaml"], "no such file"),
    ],
)
def test_mistakes_are_told(placed, run, arguments, sentence):
    (placed.parent / "bare.musicxml").write_bytes(RESTS)
    status, _, talk = run("tuning", *arguments)
    if sentence is None:
        assert status == 0
    else:
        assert status == 2
        assert sentence in talk


def test_nothing_near_is_a_status(harbour, run):
    (harbour / "apart.musicxml").write_bytes(heron_against(note("C4", 4, type_="whole")))
    status, out, _ = run("tuning", "apart.musicxml")
    assert status == 1
    assert "no other part comes near to a tone" in out

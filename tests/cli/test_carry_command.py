"""`carry` in both directions: the same fingering, and the same sounds."""

from __future__ import annotations

import json

import pytest

pytestmark = pytest.mark.usefixtures("harbour")
SLACK = ["alto-slack-water", "-c", "harbour-band.yaml"]


def test_the_same_sounds_on_tenor(run):
    status, out, err = run("carry", *SLACK, "--to", "tenor", "--same-sounds", "--most", "1")
    assert status == 0
    carried, near = out.split("In the collection\n")
    assert "tenor      E3 −50¢  C4 −18¢  G4 +24¢  carried" in carried
    assert "1.  tenor-fog-signal: Fog signal, tenor saxophone, invented" in near
    assert "only a trial makes them true" in err


def test_every_other_saxophone_for_programs(run):
    status, out, _ = run("carry", *SLACK, "--all", "--same-sounds", "--json")
    assert status == 0
    data = json.loads(out)
    assert data["from"] == "alto-slack-water"
    members = {row["saxophone"]: row["in_collection"]["fitting"] for row in data["carried"]}
    assert len(members) == 7
    assert members["tenor"] == 2


def test_the_fingering_alone_for_programs(run):
    status, out, _ = run("carry", *SLACK, "--to", "tenor", "--json")
    assert status == 0
    [row] = json.loads(out)["carried"]
    assert row["concert"] == ["E3-50", "C4-18", "G4+24"]
    assert "in_collection" not in row


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ([*SLACK, "--to", "kazoo", "--same-sounds"], "There are: sopranino, soprano, alto"),
        ([*SLACK, "--to", "alto", "--same-sounds"], "for alto saxophone already"),
        (["alto-slack", "-c", "harbour-band.yaml", "--to", "tenor"], "Did you mean"),
        ([*SLACK, "--same-sounds"], "to which saxophones?"),
    ],
)
def test_mistakes_are_status_2(run, arguments, words):
    status, out, err = run("carry", *arguments)
    assert (status, out) == (2, "")
    assert words in err


def test_the_demonstration_is_not_called_by_its_path(run):
    status, _, err = run("carry", "nope", "--to", "tenor")
    assert status == 2
    assert "there is no sonority 'nope' in the demonstration's collection\n" in err
    _, _, err = run("carry", "nope", "-c", "harbour-band.yaml", "--to", "tenor")
    assert "there is no sonority 'nope' in harbour-band.yaml\n" in err

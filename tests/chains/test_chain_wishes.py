"""Rows of wishes, from a file and from a line; every mistake with its line."""

from __future__ import annotations

import json
from fractions import Fraction

import pytest
from jsonschema import Draft202012Validator

from reedchord.chains.chain_wishes import parse_wishes, read_wishes, wishes_from_text
from reedchord.dynamics import Dynamic
from reedchord.errors import ReedchordError
from reedchord.schemas import schema_texts
from reedchord.sonority_fields import Articulation

WREN = "{saxophone: alto, name: Wren}"
HEAD = "reedchord: wishes\nversion: 1\n"


def _parse(text):
    return parse_wishes(HEAD + text).request


def _refused(text):
    with pytest.raises(ReedchordError) as caught:
        _parse(text)
    return str(caught.value)


def test_times_follow_from_lengths_rests_overlaps_and_tempi():
    """At quarter = 60 a quarter lasts a second; at half = 60 half of that."""
    row = _parse(
        """
each: {tempo: 60}
wishes:
  - {concert: F4, lasts: half}
  - {concert: F4, lasts: quarter., rest: eighth}
  - {concert: F4, lasts: whole + half, overlap: half}
  - {concert: F4, lasts: quarter, tempo: half = 60}
  - {concert: F4}
"""
    ).wishes
    times = [(wish.begin_seconds, wish.end_seconds) for wish in row]
    half = Fraction(1, 2)
    assert times == [(0, 2), (2, 3 + half), (4, 10), (8, 8 + half), (8 + half, 10 + half)]


def test_what_begins_together_may_stand_at_one_place():
    row = _parse(
        """
wishes:
  - {concert: F4, lasts: half, overlap: half, bar: 5}
  - {concert: A4, lasts: half, bar: 5, beat: 1}
  - {concert: F4, bar: 5, beat: 3}
"""
    ).wishes
    assert [wish.begin_seconds for wish in row] == [0, 0, 2]


def test_a_wish_is_articulated_once_in_its_length_unless_it_says_otherwise():
    row = _parse(
        """
each: {tempo: quarter = 72, lasts: half}
wishes:
  - {concert: F4}
  - {concert: F4, lasts: half + eighth}
  - {concert: F4, speed: eighth at quarter = 72}
  - {concert: F4, lasts: 1/12}
"""
    ).wishes
    speeds = [str(wish.wish.speed).removesuffix(" at quarter = 72") for wish in row]
    assert speeds == ["half", "half", "eighth", "16th"]


def test_what_each_says_holds_where_a_wish_is_silent():
    first, second, third = _parse(
        """
each: {at: mf, articulation: slap, rest: half, concert: F4}
wishes:
  - {emphasised: F4}
  - {at: pp, overlap: quarter, written: D5}
  - {sonority: heron}
"""
    ).wishes
    assert first.wish.dynamic is Dynamic.MF
    assert first.wish.articulation is Articulation.SLAP
    assert first.said == "F4, F4 brought out, at mf, slap"
    assert (second.wish.dynamic, second.wish.written) == (Dynamic.PP, True)
    assert second.end_seconds - third.begin_seconds == 1
    assert third.fixed == "heron"


def test_players_have_names_of_their_own():
    request = _parse(
        """
players: [alto, alto, {saxophone: tenor, part: P3}, {saxophone: tenor, name: Wren}]
wishes: [{concert: F4, player: alto 2}, {concert: [F4, "G4+20"], player: Wren}]
"""
    )
    assert [player.name for player in request.players] == ["alto 1", "alto 2", "P3", "Wren"]
    assert [player.saxophone.name for player in request.players] == ["alto"] * 2 + ["tenor"] * 2
    assert [wish.player for wish in request.wishes] == [1, 3]
    assert [str(pitch) for pitch in request.wishes[1].wish.pitches] == ["F4", "G4+20"]


def test_the_collection_lies_where_the_file_says(tmp_path):
    file = tmp_path / "row.yaml"
    file.write_text(HEAD + "collection: birds/all.yaml\nwishes: [{concert: F4}]\n", "utf-8")
    assert read_wishes(file).collection == tmp_path / "birds" / "all.yaml"


def test_a_row_from_one_line():
    request = wishes_from_text(
        "F4 C5; E flat 4;G4", lasts="half", tempo="quarter = 60", at="p", saxophones=["alto"]
    ).request
    assert [wish.said for wish in request.wishes] == ["F4 C5, at p", "E flat 4, at p", "G4, at p"]
    assert [str(pitch) for pitch in request.wishes[0].wish.pitches] == ["F4", "C5"]
    assert request.wishes[2].begin_seconds == 4
    assert request.players[0].saxophone.name == "alto"


@pytest.mark.parametrize(
    ("wishes", "place", "words"),
    [
        (
            "wishes:\n  - {concert: F4}\n  - {lasts: half, concert: F4 H5}",
            "line 5, column 19, field wishes[2].concert",
            "'H5' is no pitch: column 4 should be a step",
        ),
        (
            "each: {within: wide}\nwishes: [{concert: F4}]",
            "line 3, column 8, field each.within",
            "'wide' is no number of cents",
        ),
        (
            "wishes: [{concert: F4 A5 C6, tones: 2}]",
            "line 3, column 10, field wishes[1]",
            "3 pitches cannot sound in 2 tones",
        ),
        (
            "wishes: [{concert: F4, avoid: F4}]",
            "line 3",
            "F4 is wished, and F4 is to be avoided",
        ),
        (
            "wishes: [{concert: F4, within: 700}]",
            "line 3",
            "within goes from 0 to 600 cents, not 700",
        ),
        ("wishes: [{lasts: half}]", "field wishes[1]", "nothing is wished here"),
        ("wishes: [{concert: F4, written: D5}]", "line 3", "Say concert or written, not both."),
        (
            "wishes: [{concert: F4, lasts: hafl}]",
            "field wishes[1].lasts",
            "Did you mean half",
        ),
        ("wishes: [{concert: F4, tempo: fast}]", "field wishes[1].tempo", "is no tempo"),
        (
            "wishes: [{concert: F4, rest: half, overlap: half}]",
            "field wishes[1].overlap",
            "not by both",
        ),
        (
            "wishes: [{concert: F4, lasts: half, overlap: whole}]",
            "field wishes[1].overlap",
            "longer than what overlaps",
        ),
        (
            "wishes: [{concert: F4, bar: 5}, {concert: A4, bar: 5, beat: 1}]",
            "field wishes[2]",
            "bar 5, beat 1 is where wish 1 stands, which begins earlier",
        ),
        (
            "players: [alto]\nwishes: [{concert: F4, player: alt}]",
            "line 4, column 24, field wishes[1].player",
            "Did you mean alto?",
        ),
        (
            f"players: [{WREN}, {WREN}]\nwishes: [{{concert: F4}}]",
            "field players[1]",
            "two players are called Wren",
        ),
        ("players: [kazoo]\nwishes: [{concert: F4}]", "line 3", "'kazoo' is no saxophone"),
        ("wishes: [{consert: F4}]", "line 3", "Did you mean concert"),
        ("wishes: []", "line 3", "fewer entries than 1"),
    ],
)
def test_mistakes_are_told_with_line_and_field(wishes, place, words):
    told = _refused(wishes)
    assert place in told
    assert words in told


def test_all_mistakes_are_told_together():
    told = _refused("wishes:\n  - {concert: H4}\n  - {concert: F4, at: loud}\n  - {lasts: half}")
    assert [line.split(":")[0] for line in told.splitlines() if line.startswith("wishes.yaml")] == [
        "wishes.yaml, line 4, column 6, field wishes[1].concert",
        "wishes.yaml, line 5, column 19, field wishes[2].at",
        "wishes.yaml, line 6, column 5, field wishes[3]",
    ]


def test_an_unknown_saxophone_comes_with_the_list():
    told = _refused("players: [kazoo]\nwishes: [{concert: F4}]")
    assert "sopranino, soprano, alto, C melody, tenor, baritone, bass, contrabass" in told


def test_other_files_are_refused(tmp_path):
    with pytest.raises(ReedchordError, match="this is not a file of wishes"):
        parse_wishes("reedchord: plan\nversion: 1\n")
    with pytest.raises(ReedchordError, match="there is no such file"):
        read_wishes(tmp_path / "nowhere.yaml")
    (tmp_path / "latin.yaml").write_bytes(b"\xff\xfe\xe4")
    with pytest.raises(ReedchordError, match="not UTF-8"):
        read_wishes(tmp_path / "latin.yaml")


SCHEMA = Draft202012Validator(json.loads(schema_texts()["wishes.schema.json"]))
ROW = {"reedchord": "wishes", "version": 1, "players": ["alto"], "wishes": [{"concert": "F4"}]}


@pytest.mark.parametrize(
    ("more", "good"),
    [
        ({}, True),
        ({"players": ["alto", {"saxophone": "tenor", "part": "P3"}]}, True),
        ({"wishes": [{"concert": ["F4", "C5"], "within": 20, "bar": 3, "beat": 1.5}]}, True),
        ({"players": ["kazoo"]}, False),
        ({"players": [{"name": "Wren"}]}, False),
        ({"wishes": []}, False),
        ({"wishes": [{"consert": "F4"}]}, False),
        ({"wishes": [{"concert": 4}]}, False),
        ({"each": {"bar": 4}}, False),
        ({"each": {"tones": "two"}}, False),
        ({"forbidden": ["two words"]}, False),
        ({"version": 2}, False),
    ],
    ids=str,
)
def test_schema_and_reader_agree(more, good):
    """jsonschema is an independent implementation of JSON Schema 2020-12."""
    text = json.dumps(ROW | more)
    assert SCHEMA.is_valid(json.loads(text)) is good
    if good:
        parse_wishes(text, "row.json")
    else:
        with pytest.raises(ReedchordError):
            parse_wishes(text, "row.json")


def test_a_semicolon_may_end_a_row_of_harmonies_and_none_is_empty():
    assert len(wishes_from_text("F4 C5; Bb3;").request.wishes) == 2
    for text, number in (("F4 C5; ; Bb3", 2), ("; F4", 1), ("", 1), (";", 1)):
        with pytest.raises(ReedchordError, match=f"--concert: harmony {number} is empty"):
            wishes_from_text(text)

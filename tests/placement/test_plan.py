"""Plan files: what a user writes, and where each line stands."""

from pathlib import Path

import pytest

from reedchord.chord_spelling import Grid
from reedchord.errors import InputError, ReedchordError, SeveralErrors
from reedchord.pitch import parse_pitch
from reedchord.placement.plan import Placement, parse_plan, read_plan
from reedchord.placement.style import Manner, Marking, Shown
from reedchord.saxophones import FAMILY

PLAN = """\
reedchord: plan
version: 1
collection: reeds.yaml
style:
  grid: semitone
  cents: always
  marking: diamond
placements:
  - sonority: heron
    part: Alto Saxophone
    bar: 12
    beat: 2.5
  - {sonority: egret, part: P1, bar: "@7", voice: 2, staff: 1,
     tones: [1, A4], emphasised: A4, manner: very soft, saxophone: alto, carry: true}
"""


def test_a_plan_is_read_with_the_line_of_each_placement():
    plan = parse_plan(PLAN, "swamp.yaml")
    (first, at_first), (second, at_second) = plan.placements
    assert first == Placement(sonority="heron", part="Alto Saxophone", bar="12", beat="2.5")
    assert (at_first.path, at_first.line) == ("swamp.yaml", 9)
    assert at_second.line == 13
    assert (second.bar, second.voice, second.staff) == ("@7", "2", "1")
    assert second.tones == (1, parse_pitch("A4"))
    assert second.emphasised == parse_pitch("A4")
    assert second.manner is Manner.VERY_SOFT
    assert second.saxophone == FAMILY["alto"]
    assert second.carry


def test_a_plan_may_say_how_sonorities_look():
    style = parse_plan(PLAN).style
    assert style is not None
    assert style.grid is Grid.SEMITONE
    assert (style.cents, style.fingering) == (Shown.ALWAYS, Shown.FIRST)
    assert style.marking is Marking.DIAMOND


def test_a_plan_that_says_nothing_of_style_leaves_it_to_the_score():
    assert parse_plan("reedchord: plan\nversion: 1\nplacements: []").style is None


def test_json_is_a_plan_too():
    text = '{"reedchord": "plan", "version": 1, "placements": [\n{"sonority": "heron", '
    plan = parse_plan(text + '"part": "P1", "bar": 3}]}', "swamp.json")
    ((placement, where),) = plan.placements
    assert placement.bar == "3"
    assert placement.beat == "1"
    assert where.line == 2


def test_a_plan_file_names_its_collection_from_where_it_stands(tmp_path):
    file = tmp_path / "swamp.yaml"
    file.write_text(PLAN, "utf-8")
    assert read_plan(file).collection == tmp_path / "reeds.yaml"
    file.write_text(PLAN.replace("collection: reeds.yaml\n", ""), "utf-8")
    assert read_plan(file).collection is None
    assert parse_plan(PLAN).collection == Path("reeds.yaml")


def faults(text):
    with pytest.raises(ReedchordError) as caught:
        parse_plan(text, "swamp.yaml")
    error = caught.value
    return list(error.errors) if isinstance(error, SeveralErrors) else [error]


@pytest.mark.parametrize(
    ("old", "new", "line", "words"),
    [
        ("bar: 12", "bar: 12\n    tempo: 60", 12, "tempo"),
        ("    bar: 12\n", "", 9, "bar"),
        ("sonority: heron", "sonority: a heron", 9, "no spaces"),
        ("manner: very soft", "manner: loud", 14, "slap"),
        ("saxophone: alto", "saxophone: altoo", 14, "alto"),
        ("[1, A4]", "[1, H4]", 14, "H4"),
        ("grid: semitone", "grid: third", 5, "quarter"),
        ("version: 1", "version: 2", 2, "1"),
        ("bar: 12", "bar: true", 11, "text"),
    ],
)
def test_a_mistake_is_told_with_its_line(old, new, line, words):
    (error,) = faults(PLAN.replace(old, new))
    assert isinstance(error, InputError)
    assert error.where.path == "swamp.yaml"
    assert error.where.line == line
    assert words in str(error)


def test_all_mistakes_of_a_plan_are_told_together():
    text = PLAN.replace("grid: semitone", "grid: third").replace("bar: 12", "bar: []")
    assert sorted(error.where.line for error in faults(text)) == [5, 11]


@pytest.mark.parametrize("text", ["reedchord: collection\nversion: 1", "[]", "a plan"])
def test_something_else_is_no_plan(text):
    (error,) = faults(text)
    assert error.code == "plan.format"
    assert "reedchord: plan" in str(error)


def test_a_missing_file_is_said_to_be_missing(tmp_path):
    with pytest.raises(InputError) as caught:
        read_plan(tmp_path / "none.yaml")
    assert caught.value.code == "file.missing"
    assert "none.yaml" in str(caught.value)

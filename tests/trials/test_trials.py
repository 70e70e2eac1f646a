"""Set-ups and logs of trials: what is read, and what is refused with its line and column."""

import json

import pytest
from jsonschema import Draft202012Validator

from oda import HEAD, SET_UP, SET_UP_TEXT, trials
from reedchord.errors import ReedchordError
from reedchord.own_file import parse_own_text
from reedchord.schemas import schema_texts
from reedchord.trials.set_ups import SetUpFile, read_set_up
from reedchord.trials.trials import default_log, parse_log, read_trials, trials_of
from reedchord.yaml_text import read_data_text
from samples import BITTERN, HERON

GOOD = "date: 2031-11-25, sonority: heron, outcome: spoke"


def test_a_set_up_in_one_line():
    assert SET_UP.words() == "O. D., alto saxophone borrowed from the boathouse, reed no. 3"


def test_a_log_lies_beside_its_set_up_and_may_be_missing(tmp_path):
    file = tmp_path / "oda.yaml"
    file.write_text(SET_UP_TEXT, "utf-8")
    assert default_log(file).name == "oda-trials.yaml"
    assert read_trials(file).trials == ()
    default_log(file).write_text(HEAD + f"  - {{{GOOD}}}\n", "utf-8")
    [trial] = read_trials(file).trials
    assert (trial.sonority, trial.date, trial.outcome.spoke) == ("heron", "2031-11-25", True)


def test_a_named_log_must_be_there(tmp_path):
    file = tmp_path / "oda.yaml"
    file.write_text(SET_UP_TEXT, "utf-8")
    with pytest.raises(ReedchordError, match="no such file") as caught:
        read_trials(file, tmp_path / "odo.yaml")
    assert caught.value.hint == "Did you mean oda.yaml?"
    with pytest.raises(ReedchordError, match="there is no such file"):
        read_set_up(tmp_path / "od.yaml")


def test_days_are_in_order_and_one_day_keeps_the_order_of_the_log():
    days = ("2031-11-25", "2031-11-23", "2031-11-25")
    rows = [
        f"date: {day}, sonority: heron, outcome: spoke, remarks: '{number}'"
        for number, day in enumerate(days)
    ]
    assert [one.remarks for one in trials(*rows).of(HERON)] == ["1", "0", "2"]


def test_only_the_saxophone_of_the_set_up_counts():
    assert trials("date: 2031-11-25, sonority: bittern, outcome: spoke").of(BITTERN) == ()


def test_unknown_sonorities_are_told_with_near_names():
    log = trials(GOOD, "date: 2031-11-25, sonority: egrett, outcome: spoke")
    assert log.unknown(["heron", "egret"]) == [
        "a trial of 'egrett', which is not known here; did you mean egret?"
    ]


def test_trials_of_other_set_ups_are_left_out_and_near_names_told():
    log = parse_log(HEAD + f"  - {{{GOOD}, set_up: oda-altoo}}\n  - {{{GOOD}}}\n")
    mine = trials_of(SET_UP, log)
    assert len(mine.trials) == 1
    assert mine.warnings == ("trials.yaml: trials of 'oda-altoo', not of 'oda-alto', are left out",)


ROWS = [
    GOOD,
    f"{GOOD}, attack: breath, dynamics: p-f, takes: [a.wav], remarks: a quiet room",
    f"{GOOD}, tones: [{{tone: 1, came_at: [p, mf-f]}}, {{tone: G5+31, measured: G5+28}}]",
    f"{GOOD}, tones: [{{measured: E6, uncertainty_cents: 2.5}}, {{tone: 3, came_at: []}}]",
    f"{GOOD}, limits: [{{articulation: slap, fastest: eighth at quarter = 60}}]",
]


@pytest.mark.parametrize("row", ROWS)
def test_what_the_reader_takes_the_schema_takes(row):
    """The outside check is `jsonschema`, an independent implementation of JSON Schema."""
    text = HEAD + f"  - {{{row}}}\n"
    schemas = {name: json.loads(text) for name, text in schema_texts().items()}
    assert len(parse_log(text).record.trials) == 1
    validator = Draft202012Validator(schemas["trials.schema.json"])
    validator.validate(read_data_text(text, "log.yaml").data)
    Draft202012Validator(schemas["set-up.schema.json"]).validate(
        read_data_text(SET_UP_TEXT, "oda.yaml").data
    )


MISTAKES = [
    ("date: 2031-02-30, sonority: a, outcome: spoke", 5, 6, "is no day"),
    ("date: 2031-2-3, sonority: a, outcome: spoke", 5, 6, "2031-11-25"),
    ("date: 2031-11-25, sonority: a, outcome: spok", 5, 37, "Did you mean spoke"),
    ("date: 2031-11-25, sonority: a, outcome: did not speak, tones: [{tone: 1}]", 5, 5, "yet"),
    ("date: 2031-11-25, sonority: a, outcome: spoke, tones: [{came_at: [p]}]", 5, 61, "no tone"),
    ("date: 2031-11-25, sonority: a, outcome: spoke, tonse: []", 5, 53, "Did you mean tones"),
    ("date: 2031-11-25, outcome: spoke", 5, 5, "'sonority' is missing"),
]


@pytest.mark.parametrize(("row", "line", "column", "words"), MISTAKES)
def test_a_mistake_is_told_with_line_and_column(row, line, column, words):
    with pytest.raises(ReedchordError) as caught:
        parse_log(HEAD + f"  - {{{row}}}\n", "log.yaml")
    where = caught.value.where
    assert (where.path, where.line) == ("log.yaml", line)
    assert where.column == column
    assert words in str(caught.value)


def test_broken_yaml_is_told_with_line_and_column():
    with pytest.raises(ReedchordError, match="breaks off here") as caught:
        parse_log(HEAD + "  - {date: 2031-11-25\n", "log.yaml")
    assert (caught.value.where.line, caught.value.where.column) == (6, 1)


def test_somebody_must_have_tried():
    with pytest.raises(ReedchordError, match="with which set-up"):
        parse_log(HEAD.replace("set_up: oda-alto\n", "") + f"  - {{{GOOD}}}\n")


@pytest.mark.parametrize("text", ["reedchord: plan\nversion: 1\n", "- 1\n"])
def test_another_file_is_no_set_up(text):
    with pytest.raises(ReedchordError, match="not a set-up"):
        parse_own_text(SetUpFile, text, "oda.yaml", "a set-up")

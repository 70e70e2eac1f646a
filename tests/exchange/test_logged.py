"""A trial added to a log: every character that was there stays."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from oda import HEAD, SET_UP
from reedchord.errors import ReedchordError
from reedchord.exchange.logged import log_with, text_with
from reedchord.exchange.typed_trial import checked_trial, typed_tone
from reedchord.trials.trials import parse_log
from samples import HERON

TRIAL = checked_trial(
    {
        "date": "2031-11-25",
        "sonority": "heron",
        "outcome": "after a try",
        "tones": [typed_tone("1: p-f"), typed_tone("3: none")],
        "takes": ["heron-1.wav"],
    },
    HERON,
    SET_UP,
)
MORE = ("x.yaml", TRIAL, "oda-alto")
ROW = "  - {date: 2031-11-20, sonority: egret, outcome: spoke}  # the soft reed\n"
ADDED = """\

  - date: '2031-11-25'
    sonority: heron
    outcome: spoke after a try
    tones:
      - {tone: 1, came_at: [p-f]}
      - {tone: 3, came_at: []}
    takes:
      - heron-1.wav
"""


def test_a_new_log():
    head = HEAD.removesuffix("trials:\n")
    text = text_with(head, *MORE)
    assert text == f"{head}\ntrials:\n{ADDED[1:]}"


def test_comments_and_what_follows_the_list_stay():
    before = f"# mine\n{HEAD}{ROW}"
    after = "\n# what this is\nnote: a quiet room   # mostly\n"
    text = text_with(before + after, *MORE)
    assert text == before + ADDED + after


@pytest.mark.parametrize(
    "rest", ["trials: []  # none yet\n", "trials:  # none yet\n", "trials: []\n", ""]
)
def test_an_empty_list_is_opened(rest):
    head = HEAD.removesuffix("trials:\n")
    text = text_with(head + rest, *MORE)
    assert text.startswith(head)
    assert ("# none yet" in text) == ("# none yet" in rest)
    assert len(parse_log(text).record.trials) == 1


def test_dashes_without_indentation_and_other_line_ends_stay():
    before = (HEAD + ROW.removeprefix("  ")).replace("\n", "\r\n")
    text = text_with(before, *MORE)
    assert text.startswith(before + "\r\n- date")
    assert "\n" not in text.replace("\r\n", "")


def test_a_last_line_without_an_end_and_the_end_of_a_document():
    assert text_with(HEAD + ROW.rstrip(), *MORE) == HEAD + ROW.rstrip() + "\n" + ADDED
    assert text_with(HEAD + ROW + "...\n", *MORE) == HEAD + ROW + ADDED + "...\n"


def test_the_set_up_is_named_where_the_log_is_another_ones():
    text = text_with(HEAD.replace("oda-alto", "tam-alto") + ROW, *MORE)
    assert parse_log(text).record.trials[-1].set_up == "oda-alto"


def test_a_list_in_brackets_is_refused_with_its_place():
    with pytest.raises(ReedchordError, match="brackets") as caught:
        text_with(HEAD.rstrip() + f" [{ROW.strip(' -').partition('#')[0]}]", "x.yaml", TRIAL, "o")
    assert (caught.value.where.path, caught.value.where.line) == ("x.yaml", 4)


def test_json_logs_grow_too(tmp_path):
    file = tmp_path / "log.json"
    file.write_text(log_with(file, [TRIAL], "oda-alto"), "utf-8")
    data = json.loads(log_with(file, [TRIAL], "oda-alto"))
    assert [one["sonority"] for one in data["trials"]] == ["heron", "heron"]


def test_nothing_is_added_to_a_broken_log(tmp_path):
    file = tmp_path / "log.yaml"
    file.write_text(HEAD + "  - {date: 2031-11-20\n", "utf-8")
    with pytest.raises(ReedchordError) as caught:
        log_with(file, [TRIAL], "oda-alto")
    assert (caught.value.where.line, caught.value.where.column) == (6, 1)


_TEXT = st.text(min_size=1, max_size=60).filter(
    lambda text: text.strip() and text.isprintable() and text == text.strip()
)


@given(remarks=_TEXT, takes=st.lists(_TEXT, max_size=3))
def test_whatever_is_typed_can_be_read_again(remarks, takes):
    trial = TRIAL.model_copy(update={"remarks": remarks, "takes": tuple(takes)})
    text = text_with(HEAD + ROW, "x.yaml", trial, "oda-alto")
    assert parse_log(text).record.trials[-1] == trial


_COMMENTS = st.lists(st.sampled_from(["# a thought\n", "\n", "  # an aside\n"]), max_size=2)
_IN_TWO_LINES = """\
{dash}- date: 2031-11-20
{dash}  sonority: egret
{dash}  outcome: spoke
{dash}  remarks: |
{dash}    two

{dash}    lines
"""
_ROWS = st.sampled_from(
    [
        "{dash}- {{date: 2031-11-20, sonority: egret, outcome: spoke}}\n",
        "{dash}- date: 2031-11-20   # early\n{dash}  sonority: egret\n{dash}  outcome: spoke\n",
        "{dash}-   sonority: egret\n{dash}    outcome: spoke\n{dash}    date: '2031-11-20'\n",
        "{dash}- {{date: 2031-11-20, sonority: egret,\n{dash}   outcome: spoke}}\n",
        _IN_TWO_LINES,
    ]
)


@given(
    dash=st.sampled_from(["", "  ", "    "]),
    rows=st.lists(st.tuples(_ROWS, _COMMENTS), min_size=1, max_size=3),
    after=st.sampled_from(["", "note: a quiet room\n", "# last\ntitle: log\n"]),
)
def test_every_line_of_a_log_stays_in_its_order(dash, rows, after):
    body = "".join(row.format(dash=dash) + "".join(comments) for row, comments in rows)
    before = f"{HEAD}{body}{after}"
    old = parse_log(before).record
    text = text_with(before, *MORE)
    new = parse_log(text).record
    assert new.trials == (*old.trials, TRIAL)
    assert (new.note, new.title) == (old.note, old.title)
    lines = iter(text.splitlines())
    assert all(line in lines for line in before.splitlines())


@pytest.mark.parametrize("there", ["", "\n", "\ufeff"])
def test_an_empty_log_is_begun(tmp_path, there):
    file = tmp_path / "log.yaml"
    file.write_text(there, "utf-8")
    text = log_with(file, [TRIAL], "oda-alto").removeprefix("\ufeff")
    assert text == log_with(tmp_path / "new.yaml", [TRIAL], "oda-alto")


def test_the_mark_that_editors_of_windows_set_stays(tmp_path):
    file = tmp_path / "log.yaml"
    file.write_text(HEAD + ROW, "utf-8-sig")
    assert log_with(file, [TRIAL], "oda-alto") == f"\ufeff{HEAD}{ROW}{ADDED}"

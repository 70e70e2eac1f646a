"""One option is the same in every command: its letters, what it takes, what is said of it."""

from __future__ import annotations

from collections import defaultdict

import pytest
from typer.main import get_command

from reedchord.cli.app import app
from reedchord.cli.commands import COLLECTION_COMMANDS, COMMANDS

SHORT = {
    "--output": "-o",
    "--collection": "-c",
    "--part": "-p",
    "--bar": "-b",
    "--format": "-f",
    "--mapping": "-m",
}
ONE_SENTENCE = (
    "--a4", "--bars", "--british", "--diff", "--in-place", "--json", "--paper", "--pitch-names",
    "--plan",
)  # fmt: skip


def commands():
    group = get_command(app)
    yield from ((name, group.commands[name]) for name in COMMANDS)
    collections = group.commands["collection"]
    yield from ((f"collection {n}", collections.commands[n]) for n in COLLECTION_COMMANDS)


OPTIONS = [
    (name, option)
    for name, command in commands()
    for option in command.params
    if option.param_type_name == "option"
]


def spelled(option):
    return max(option.opts, key=len)


@pytest.mark.parametrize(("name", "option"), OPTIONS, ids=lambda one: getattr(one, "name", one))
def test_letters_are_the_same_everywhere(name, option):
    short = [text for text in option.opts if not text.startswith("--")]
    assert short == [SHORT[spelled(option)]] if spelled(option) in SHORT else not short


def test_a_shared_option_says_and_takes_the_same_everywhere():
    told = defaultdict(set)
    for name, option in OPTIONS:
        # The command that places says of its plan that it is the whole of it.
        if spelled(option) in ONE_SENTENCE and (name, spelled(option)) != ("place", "--plan"):
            told[spelled(option)].add((option.help, str(option.default), option.multiple))
    assert {option: len(ways) for option, ways in told.items()} == dict.fromkeys(ONE_SENTENCE, 1)


def test_whatever_has_other_formats_takes_a_format_and_json_has_a_short_way():
    with_json = {name for name, option in OPTIONS if spelled(option) == "--json"}
    assert {
        "match", "check", "tuning", "find", "neighbours", "chain", "carry", "explore", "measure",
    } <= with_json  # fmt: skip


@pytest.mark.parametrize("command", ["show", "hear", "practice", "tuning", "measure"])
@pytest.mark.parametrize("hz", ["379", "481", "nan"])
def test_every_a4_has_the_same_bounds(run, harbour, command, hz):
    asked = {
        "show": ["alto-slack-water"],
        "hear": ["alto-slack-water", "-o", "x.wav"],
        "practice": ["alto-slack-water", "-o", "x.wav"],
        "tuning": ["harbour-lights-placed.musicxml"],
        "measure": ["take.wav"],
    }[command]
    status, _, err = run(command, *asked, "--a4", hz)
    assert status == 2
    assert f"A4 at {hz} Hz is no pitch to tune to" in err
    assert "380 to 480 Hz" in err


PLACE = ["place", "harbour-lights.musicxml"]


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        ([*PLACE, "alto-shingle", "--part", "P2", "--bar", "5", "-o", "o.musicxml"], "wrote o."),
        (["swap", "harbour-lights-placed.musicxml", "M2", "alto-shingle", "-o", "o.xml"], "wrote"),
        (["find", "--concert", "F4"], "sonorities fit"),
        (["neighbours", "alto-shingle"], "Computed"),
        (["chain", "--concert", "F4", "--saxophone", "alto"], "The best of all"),
        (["explore", "--from", "alto-shingle"], "Changes of alto-shingle on alto"),
        (["tuning", "harbour-lights-placed.musicxml"], "nearer"),
        (["check", "harbour-lights-mistakes.musicxml"], "-> swap it for alto-slack-water"),
        (["sheet", "harbour-lights-placed.musicxml", "-o", "o.html"], "wrote o.html: M1"),
    ],
    ids=lambda one: one[0],
)
def test_every_command_takes_the_collection_that_the_environment_names(
    run, harbour, monkeypatch, arguments, told
):
    monkeypatch.setenv("REEDCHORD_COLLECTION", "harbour-band.yaml")
    _, out, err = run(*arguments)
    assert told in out + err
    assert "no collection" not in err
    assert "no --collection" not in err


def test_a_plan_and_a_row_of_wishes_have_collections_of_their_own(run, harbour, monkeypatch):
    monkeypatch.setenv("REEDCHORD_COLLECTION", "nowhere.yaml")
    assert run(*PLACE, "--plan", "harbour-plan.yaml", "-o", "o.musicxml")[0] == 0
    assert run("chain", "harbour-wishes.yaml")[0] == 0
    status, _, err = run("find", "--concert", "F4")
    assert (status, "nowhere.yaml: there is no such file or folder" in err) == (2, True)


@pytest.mark.parametrize(
    "arguments",
    [
        [*PLACE, "alto-shingle", "--part", "P2", "--bar", "5", "-o", "o.musicxml"],
        ["chain", "--concert", "F4", "-o", "plan.yaml"],
    ],
    ids=lambda one: one[0],
)
def test_what_is_invented_is_written_only_where_it_is_named(run, harbour, monkeypatch, arguments):
    monkeypatch.delenv("REEDCHORD_COLLECTION", raising=False)
    status, _, err = run(*arguments)
    assert (status, "no collection is named" in err) == (2, True)
    assert "--collection FILE" in err


@pytest.mark.parametrize(("name", "command"), list(commands()), ids=lambda one: str(one)[:20])
def test_the_first_sentence_of_a_command_fits_into_the_list_of_commands(name, command):
    assert not command.get_short_help_str(62).endswith("...")

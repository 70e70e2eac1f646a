"""`reedchord collection` with a spreadsheet, a second log, and somebody at a terminal."""

from __future__ import annotations

import json
import os
import pty
import signal
import sys
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from typer.testing import CliRunner

from reedchord.cli import new_sonority
from reedchord.cli.app import app
from reedchord.collection_reading import read_collection
from reedchord.schemas import schema_texts

SOURCES = Path(__file__).parents[2] / "src"
SHEET = """\
Name;Saxophon;Griff;Ton 1;Cent 1;Ton 2;Quelle;Seite
Nebelhorn;Alt;left 1 2 3 | right 1 3;F4;+12,5;D5;Hafenbuch;8
"""

pytestmark = pytest.mark.usefixtures("harbour")


@pytest.fixture
def sheet(harbour):
    (harbour / "sheet.csv").write_text(SHEET, "utf-8")
    return harbour / "sheet.csv"


def test_import_prints_a_collection_and_tells_what_was_guessed(run, sheet):
    status, out, err = run("collection", "import", "sheet.csv")
    assert status == 0
    assert "  - id: nebelhorn\n" in out
    assert "note: read as UTF-8, cells separated by semicolon" in err
    assert "note: guessed: column 2, 'Saxophon', holds: saxophone" in err


def test_import_writes_what_check_accepts(run, sheet, harbour):
    status, out, err = run("collection", "import", "sheet.csv", "-o", "new.yaml")
    assert (status, out) == (0, "")
    assert "wrote new.yaml: 1 sonority, 1 source" in err
    status, out, _ = run("collection", "check", "new.yaml")
    assert (status, out) == (0, "new.yaml: 1 sonority for alto; 1 source; no mistakes\n")


def test_import_into_json(run, sheet, harbour):
    assert run("collection", "import", "sheet.csv", "-o", "new.json")[0] == 0
    assert json.loads((harbour / "new.json").read_text("utf-8"))["reedchord"] == "collection"
    assert read_collection(harbour / "new.json")["nebelhorn"].name == "Nebelhorn"


def test_a_dry_run_writes_nothing(run, sheet, harbour):
    status, out, err = run("collection", "import", "sheet.csv", "-o", "new.yaml", "--dry-run")
    assert (status, out) == (1, "")
    assert "would write 1 sonority" in err
    assert not (harbour / "new.yaml").exists()


def test_one_bad_cell_stops_the_whole_import(run, sheet, harbour):
    sheet.write_text(SHEET + "Kaputt;Kazoo;left 1;C4;;E5;Hafenbuch;9\n", "utf-8")
    status, out, err = run("collection", "import", "sheet.csv", "-o", "new.yaml")
    assert (status, out) == (2, "")
    assert "sheet.csv, line 3, column 2" in err
    assert "contrabass" in err
    assert not (harbour / "new.yaml").exists()
    status, _, err = run("collection", "import", "sheet.csv", "-o", "new.yaml", "--skip-bad")
    assert status == 0
    assert "left out: sheet.csv, line 3, column 2" in err


def test_import_with_a_mapping_and_settings(run, sheet, harbour):
    (harbour / "map.yaml").write_text(
        "reedchord: mapping\nversion: 1\ncolumns: {Ton 2: ignore}\n", "utf-8"
    )
    more = ["--mapping", "map.yaml", "--set", "dynamics=p-f"]
    status, out, _ = run("collection", "import", "sheet.csv", *more)
    assert status == 0
    assert "D5" not in out
    assert "dynamics: p-f" in out
    status, _, err = run("collection", "import", "sheet.csv", "--set", "dynamics")
    assert status == 2
    assert "says nothing about a field" in err


def test_a_mapping_that_cannot_be_read(run, sheet, harbour):
    status, _, err = run("collection", "import", "sheet.csv", "--mapping", "none.yaml")
    assert status == 2
    assert err.startswith("error: none.yaml: there is no such file\n  There are: harbour-alto.yaml")
    (harbour / "map.yaml").write_bytes("columns: {Größe: page}".encode("latin-1"))
    status, _, err = run("collection", "import", "sheet.csv", "--mapping", "map.yaml")
    assert status == 2
    assert "map.yaml: the text is not UTF-8 (byte 12)" in err


def test_an_output_among_the_files_of_a_folder_is_not_written_over(run, harbour):
    folder = harbour / "records"
    folder.mkdir()
    band = folder / "band.yaml"
    text = (harbour / "harbour-band.yaml").read_text("utf-8")
    band.write_text(text, "utf-8")
    for command in (
        "collection export records --format yaml -o records/band.yaml",
        "collection merge records harbour-band.yaml -o records/band.yaml",
        "chain harbour-wishes.yaml -c records -o records/band.yaml",
    ):
        status, _, err = run(*command.split())
        assert (status, "records/band.yaml, which is read" in err) == (2, True)
        assert band.read_text("utf-8") == text
    plan = "chain harbour-wishes.yaml -c records -o records/plan.yaml"
    assert [run(*plan.split())[0], run(*plan.split())[0]] == [0, 0]


@pytest.mark.parametrize("command", ["import sheet.csv", "merge harbour-band.yaml sheet.csv"])
def test_an_input_is_never_written_over(run, sheet, command):
    status, _, err = run("collection", *command.split(), "-o", "sheet.csv")
    assert status == 2
    assert "a collection cannot be written to sheet.csv" in err
    assert sheet.read_text("utf-8") == SHEET


@pytest.mark.parametrize("name", ["out.csv", "out.json", "out.yaml"])
def test_what_is_exported_comes_back_equal(run, harbour, name):
    before = read_collection(harbour / "harbour-band.yaml")
    status, _, err = run("collection", "export", "harbour-band.yaml", "-o", name)
    assert (status, err) == (0, f"wrote {name}\n")
    if name == "out.csv":
        assert (harbour / name).read_bytes().startswith(b"\xef\xbb\xbfid,name,saxophone,")
        run("collection", "import", name, "-o", "back.yaml")
        name = "back.yaml"
    after = read_collection(harbour / name)
    assert dict(after.sonorities) == dict(before.sonorities)
    assert after.sources == before.sources


def test_exported_json_keeps_to_the_published_schema(run):
    status, out, _ = run("collection", "export", "harbour-band.yaml", "--format", "json")
    assert status == 0
    schema = json.loads(schema_texts()["collection.schema.json"])
    Draft202012Validator(schema).validate(json.loads(out))


def test_sources_by_the_ending_of_the_file(run, harbour):
    run("collection", "export", "harbour-band.yaml", "-o", "s.csl.json")
    assert [one["id"] for one in json.loads((harbour / "s.csl.json").read_text("utf-8"))] == [
        "kettlewick-log",
        "kettlewick-letters",
    ]
    run("collection", "export", "harbour-band.yaml", "-o", "s.bib")
    assert (harbour / "s.bib").read_text("utf-8").startswith("@unpublished{kettlewick-log,")


def test_an_ending_that_names_no_format(run):
    status, _, err = run("collection", "export", "harbour-band.yaml", "-o", "out.txt")
    assert status == 2
    assert "cannot be written to" in err
    status, _, err = run("collection", "export", "harbour-band.yaml")
    assert status == 2
    assert "csv, json, yaml, bibtex, csl" in err


def test_a_format_that_contradicts_the_ending_is_refused(run, harbour):
    status, _, err = run(
        "collection", "export", "harbour-band.yaml", "--format", "csv", "-o", "x.json"
    )
    assert status == 2
    assert "the name of x.json says json, but --format says csv" in err
    assert "let the name end in .csv" in err
    assert not (harbour / "x.json").exists()


@pytest.mark.parametrize(("form", "name"), [("csl", "s.json"), ("csv", "table.txt")])
def test_a_format_goes_with_an_ending_that_does_not_contradict_it(run, harbour, form, name):
    assert run("collection", "export", "harbour-band.yaml", "-f", form, "-o", name)[0] == 0
    _, printed, _ = run("collection", "export", "harbour-band.yaml", "-f", form)
    written = (harbour / name).read_bytes().decode("utf-8-sig")
    assert written == printed


def test_merge_renames_and_links(run, harbour):
    text = (harbour / "harbour-band.yaml").read_text("utf-8")
    other = text.replace("kettlewick-log", "second-log").replace("written: Fqs4", "written: F4+40")
    (harbour / "second.yaml").write_text(other, "utf-8")
    merge = ["collection", "merge", "harbour-band.yaml", "second.yaml", "-o", "both.yaml"]
    status, _, err = run(*merge)
    assert status == 2
    assert "second.yaml, line 92, column 5: the sonority 'alto-slack-water' differs" in err
    status, _, err = run(*merge, "--rename")
    assert status == 0
    both = read_collection(harbour / "both.yaml")
    assert both["alto-slack-water"].same_fingering_as == ("alto-slack-water-2",)
    status, out, _ = run("show", "alto-slack-water", "-c", "both.yaml")
    assert "Same keys   alto-slack-water-2" in out


# The questions, each with its answer; wrong ones are asked again.
ANSWERS = [
    ("Which saxophone?", "kazoo"),
    ("Which saxophone?", "tenor"),
    ("Which keys?", "left 1 2 9"),
    ("Which keys?", "?"),
    ("Which keys?", "B A G | F D"),
    ("Which tones", ""),
    ("Which tones", "F#4 H5"),
    ("Which tones", "concert: E3 C4+20"),
    ("How prominent", "p: loud"),
    ("How prominent", "p faint, f clear / mf dominant"),
    ("Which tone is brought out", "7"),
    ("Which tone is brought out", "2"),
    ("At which dynamics", "p-f"),
    ("How fast", "slap: eighth at quarter = 60"),
    ("In which order", "2 1"),
    ("What helps", ""),
    ("How is it known", "documented"),
    ("Which source", "Tide tables"),
    ("Who made", "Brask, Ottoline"),
    ("When did", "2031"),
    ("What kind", "book"),
    ("On which page", "12"),
    ("Which number", ""),
    ("What is it called", "Ebb"),
    ("Which id", "alto-slack-water"),
    ("Which id", ""),
    ("Write ebb to harbour-band.yaml?", "yes"),
]


def _at_a_terminal(answers, *arguments, interrupt_at=None):
    """Run the command on a terminal of its own; return its status and all it printed."""
    child, terminal = pty.fork()
    if child == 0:
        # What runs the tests in the background may have it ignored.
        signal.signal(signal.SIGINT, signal.SIG_DFL)
        os.environ["PYTHONPATH"] = str(SOURCES)
        os.execv(sys.executable, [sys.executable, "-m", "reedchord", *arguments])
    printed = b""
    for number, (question, answer) in enumerate(answers):
        while not printed.endswith(b"\n> "):
            printed += os.read(terminal, 4096)
        assert question in printed.decode().rpartition("\n> ")[0].splitlines()[-1]
        if number == interrupt_at:
            os.kill(child, signal.SIGINT)
            break
        os.write(terminal, answer.encode() + b"\n")
        printed += b" "
    while piece := _read_or_end(terminal):
        printed += piece
    os.close(terminal)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]), printed.decode().replace("\r", "")


def _read_or_end(terminal):
    try:
        return os.read(terminal, 4096)
    except OSError:  # the other end is closed
        return b""


def test_a_sonority_is_entered_at_a_terminal(harbour):
    before = (harbour / "harbour-band.yaml").read_text("utf-8")
    status, told = _at_a_terminal(ANSWERS, "collection", "new", "-o", "harbour-band.yaml")
    assert status == 0, told
    for words in (
        "There are: sopranino, soprano, alto, C melody",
        "'9' at column 10 is no main key",
        "for example: octave | left 1 2 3",
        "left hand 1, 2 and 3; right hand 1 and 3",
        "in a score: L 1 2 3 | R 1 - 3",
        "this is needed",
        "'H5' is no pitch: column 1",
        "tone 2  written D5 +20¢  concert C4 +20¢",
        "7 is not among the tones",
        "a new source, tide-tables",
        "Free is alto-slack-water-2.",
        "wrote harbour-band.yaml: 17 sonorities, 3 sources",
    ):
        assert words in told
    # One answer for both tones is told to be wrong once.
    assert told.count("'loud' is no word for presence") == 1
    after = (harbour / "harbour-band.yaml").read_text("utf-8")
    head, tail = before.split("\nsonorities:")
    assert after.startswith(head)
    assert tail.rstrip() in after
    ebb = read_collection(harbour / "harbour-band.yaml")["ebb"]
    assert str(ebb.source) == "Ottoline Brask, Tide tables, 2031, p. 12"
    assert list(map(str, ebb.concert_pitches)) == ["E3", "C4+20"]


@pytest.mark.parametrize("end", ["stop", "interrupt", "no"])
def test_nothing_is_half_written(harbour, end):
    before = (harbour / "harbour-band.yaml").read_bytes()
    command = ["collection", "new", "-o", "harbour-band.yaml"]
    if end == "interrupt":
        status, told = _at_a_terminal(ANSWERS, *command, interrupt_at=8)
        assert status == 130
    else:
        answers = [*ANSWERS[:8], ("How prominent", "stop")]
        if end == "no":
            answers = [*ANSWERS[:-1], ("Write ebb", "no")]
        status, told = _at_a_terminal(answers, *command)
        assert status == 1
    assert "nothing was written" in told
    assert (harbour / "harbour-band.yaml").read_bytes() == before
    assert sorted(path.name for path in harbour.iterdir() if path.name.startswith(".")) == []


def test_nobody_is_asked_without_a_terminal(run, monkeypatch):
    status, out, err = run("collection", "new", "-o", "new.yaml")
    assert (status, out) == (2, "")
    assert "no terminal" in err
    assert not Path("new.yaml").exists()


SHORT = "alto\nleft 1\nC4\n" + "\n" * 6 + "tried\nmine\n" + "\n" * 2 + "yes\n"


@pytest.mark.parametrize("name", ["new.yaml", "new.json"])
def test_a_new_file_and_then_another_record_in_it(monkeypatch, name):
    monkeypatch.setattr(new_sonority, "is_terminal", lambda: True)
    for count in (1, 2):
        result = CliRunner().invoke(app, ["collection", "new", "-o", name], input=SHORT)
        assert result.exit_code == 0, result.output
        assert len(read_collection(name)) == count
    assert list(read_collection(name).sonorities) == ["alto-sonority", "alto-sonority-2"]


def test_without_a_file_the_record_is_printed(monkeypatch):
    monkeypatch.setattr(new_sonority, "is_terminal", lambda: True)
    result = CliRunner().invoke(app, ["collection", "new"], input=SHORT)
    assert result.exit_code == 0
    assert "reedchord: collection\nversion: 1\n" in result.stdout
    assert "Which saxophone?" not in result.stdout


def test_the_end_of_input_stops(monkeypatch):
    monkeypatch.setattr(new_sonority, "is_terminal", lambda: True)
    result = CliRunner().invoke(app, ["collection", "new"], input="alto\n")
    assert result.exit_code == 1
    assert result.stdout == ""

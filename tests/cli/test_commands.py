"""The command line as a musician meets it: results, sentences, exit statuses."""

from __future__ import annotations

import stat
import zipfile
from importlib.resources import files

import pytest

from reedchord.demo import demo_files
from reedchord.musicxml.packing import new_package
from truth.real_scores import NAMED

DEMO = files("reedchord").joinpath("demo_data")
SLACK = ["alto-slack-water", "-c", "harbour-band.yaml"]
AT_BAR_5 = ["--part", "P2", "--bar", "5"]


def test_demo_says_what_it_wrote(run, tmp_path):
    status, out, err = run("demo", tmp_path / "new")
    assert (status, out) == (0, "")
    assert "M1: tenor-ferry-bell" in err
    assert "protect it when practising" in " ".join(err.split())
    written = {path.name for path in (tmp_path / "new").iterdir()}
    assert written == {file.name for file in demo_files()[1]}
    assert run("demo", tmp_path / "new")[0] == 0


def test_demo_overwrites_nothing(run, tmp_path):
    (tmp_path / "harbour-band.yaml").write_text("mine", "utf-8")
    status, _, err = run("demo", tmp_path)
    assert status == 2
    assert "harbour-band.yaml" in err
    assert (tmp_path / "harbour-band.yaml").read_text("utf-8") == "mine"


def test_place_writes_the_output_and_leaves_the_input(run, harbour):
    before = (harbour / "harbour-lights.musicxml").read_bytes()
    status, out, err = run(
        "place", "harbour-lights.musicxml", *SLACK, *AT_BAR_5, "-o", "o.musicxml"
    )
    assert (status, out) == (0, "")
    assert "wrote o.musicxml" in err
    assert (harbour / "harbour-lights.musicxml").read_bytes() == before
    assert b"rc-1-1" in (harbour / "o.musicxml").read_bytes()


def test_output_to_standard_output_is_the_score_alone(run, harbour):
    status, out, _ = run("place", "harbour-lights.musicxml", *SLACK, *AT_BAR_5, "-o", "-")
    assert status == 0
    assert out.startswith("<?xml")
    assert out.rstrip().endswith("</score-partwise>")


def test_in_place_keeps_mode_and_link(run, harbour):
    score = harbour / "harbour-lights.musicxml"
    score.chmod(0o640)
    (harbour / "link.musicxml").symlink_to(score)
    assert run("place", "link.musicxml", *SLACK, *AT_BAR_5, "--in-place")[0] == 0
    assert (harbour / "link.musicxml").is_symlink()
    assert stat.S_IMODE(score.stat().st_mode) == 0o640
    again = run("place", "link.musicxml", *SLACK, *AT_BAR_5, "--in-place")
    assert "was so already" in again[2]


@pytest.mark.parametrize("look", ["--diff", "--dry-run"])
def test_looking_writes_nothing_and_says_that_it_would(run, harbour, look):
    before = sorted(harbour.iterdir())
    status, out, err = run("place", "harbour-lights.musicxml", *SLACK, *AT_BAR_5, look)
    assert status == 1
    assert ("+      <direction" in out) == (look == "--diff")
    assert "nothing was written" in err
    assert sorted(harbour.iterdir()) == before


def test_suffix_decides_between_package_and_plain_file(run, harbour):
    plain = (harbour / "harbour-lights.musicxml").read_bytes()
    (harbour / "s.mxl").write_bytes(new_package(plain))
    assert run("place", "s.mxl", *SLACK, *AT_BAR_5, "-o", "o.mxl")[0] == 0
    assert run("place", "s.mxl", *SLACK, *AT_BAR_5, "-o", "o.xml")[0] == 0
    assert run("place", "harbour-lights.musicxml", *SLACK, *AT_BAR_5, "-o", "p.mxl")[0] == 0
    document = (harbour / "o.xml").read_bytes()
    for name in ("o.mxl", "p.mxl"):
        with zipfile.ZipFile(harbour / name) as package:
            assert package.namelist()[0] == "mimetype"
            assert package.read("score.musicxml") == document


@pytest.mark.parametrize(
    ("name", "part", "told"),
    [
        ("mxl with pdf", "Voice", "20a-Compressed-MusicXML.pdf, which stays as it was"),
        ("bundled parts", "P4", "p3.musicxml, p4.musicxml, which stay as they were"),
        ("mxl with junk", "P1", ""),
    ],
)
def test_what_a_package_holds_besides_is_told_and_stays(run, harbour, name, part, told):
    package = NAMED[name]
    tenor = ["tenor-slipway", "-c", "harbour-band.yaml", "--saxophone", "tenor", "--voice", "1"]
    at_1 = ["--part", part, "--bar", "1"]
    status, _, err = run("place", package, *tenor, *at_1, "-o", "o.mxl")
    assert status == 0, err
    assert ("also holds" in err, told in err) == (bool(told), True)
    assert run("strip", "o.mxl", "-o", "back.mxl")[0] == 0
    with zipfile.ZipFile(package) as before, zipfile.ZipFile(harbour / "back.mxl") as after:
        assert after.namelist() == before.namelist()
        assert all(after.read(entry) == before.read(entry) for entry in before.namelist())


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (
            ["alto-slak-water", "-c", "harbour-band.yaml", *AT_BAR_5],
            ["Did you mean alto-slack-water"],
        ),
        ([*SLACK, "--part", "Oboe", "--bar", "5"], ["no part 'Oboe'", "P2 (Alto Saxophone)"]),
        ([*SLACK, "--part", "P2", "--bar", "99"], ["no bar 99", "labelled 1 to 12"]),
        ([*SLACK, *AT_BAR_5, "--beat", "2"], ["middle of a rest", "beat 1"]),
        ([*SLACK, *AT_BAR_5, "--beat", "zero"], ["'zero' is no beat"]),
        ([*SLACK, "--part", "Piano", "--bar", "5"], ["no saxophone", "--saxophone"]),
        ([*SLACK, "--part", "P3", "--bar", "5"], ["for alto, the part for tenor", "--carry"]),
        ([*SLACK, *AT_BAR_5, "--emphasise", "C9"], ["not among the tones", "1: F4+50"]),
        ([*SLACK, *AT_BAR_5, "--grid", "third"], ["grid"]),
        ([*SLACK, *AT_BAR_5, "--manner", "sung"], ["manner"]),
        ([*SLACK, "--part", "P2"], ["missing: --bar"]),
        ([*SLACK, *AT_BAR_5, "--plan", "harbour-plan.yaml"], ["--plan holds the placements"]),
        (["x", "-c", "none.yaml", *AT_BAR_5], ["none.yaml", "no such file"]),
    ],
)
def test_bad_requests_end_with_a_sentence_and_nothing_written(run, harbour, arguments, words):
    before = sorted(harbour.iterdir())
    status, out, err = run("place", "harbour-lights.musicxml", *arguments, "-o", "bad.musicxml")
    assert (status, out) == (2, "")
    assert err.startswith("error: ")
    assert all(word in err for word in words), err
    assert "Traceback" not in err
    assert sorted(harbour.iterdir()) == before


@pytest.mark.parametrize(
    ("content", "word"),
    [
        (b"", "empty"),
        (b"%PDF-1.4", "PDF"),
        (b"<html/>", "html"),
        (b"<score-partwise><part id='P2'>", "line"),
        (b"PK\x03\x04 no zip", "package is damaged"),
    ],
)
def test_files_that_are_no_scores(run, harbour, content, word):
    (harbour / "bad.musicxml").write_bytes(content)
    status, _, err = run("place", "bad.musicxml", *SLACK, *AT_BAR_5, "-o", "o.musicxml")
    assert status == 2
    assert "bad.musicxml" in err
    assert word.casefold() in err.casefold()
    assert not (harbour / "o.musicxml").exists()


def test_the_input_is_not_overwritten_by_accident(run, harbour):
    name = "harbour-lights.musicxml"
    status, _, err = run("place", name, *SLACK, *AT_BAR_5, "-o", name)
    assert status == 2
    assert "--in-place" in err


@pytest.mark.parametrize(
    "arguments",
    [
        ["-o", "../HERE/harbour-lights.musicxml"],
        ["-o", "link.musicxml"],
        ["-o", "harbour-band.yaml"],
        ["-o", "o.musicxml", "--in-place"],
        ["-o", "no-folder/o.musicxml"],
        ["-o", "."],
    ],
)
def test_nothing_that_was_read_is_overwritten(run, harbour, arguments):
    (harbour / "link.musicxml").symlink_to(harbour / "harbour-lights.musicxml")
    before = {path: path.read_bytes() for path in harbour.iterdir()}
    out = [word.replace("HERE", harbour.name) for word in arguments]
    status, _, err = run("place", "harbour-lights.musicxml", *SLACK, *AT_BAR_5, *out)
    assert status == 2
    assert "output" in err or "either -o FILE or --in-place" in err
    assert {path: path.read_bytes() for path in harbour.iterdir()} == before


def test_a_score_and_a_plan_are_told_apart_by_their_names(run, harbour):
    placed = "harbour-lights-placed.musicxml"
    before = {path: path.read_bytes() for path in harbour.iterdir()}
    for command, name in (
        (["strip", placed], "page.pdf"),
        (["place", "harbour-lights.musicxml", *SLACK, *AT_BAR_5], "notes.txt"),
        (["plan", placed], placed),
        (["plan", placed], "harbour-lights.musicxml"),
        (["footnotes", placed, "--format", "text"], "harbour-lights.musicxml"),
        (["chain", "harbour-wishes.yaml"], "harbour-lights.musicxml"),
    ):
        status, _, err = run(*command, "-o", name)
        assert status == 2
        assert name in err
    assert {path: path.read_bytes() for path in harbour.iterdir()} == before


def test_a_wrong_option_is_called_as_it_was_typed(run, harbour):
    wishes = (
        ("--for", "forever"),
        ("--emphasise", "foo"),
        ("--tones", "H4"),
        ("--manner", "loud"),
    )
    for option, typed in wishes:
        request = [*SLACK, *AT_BAR_5, option, typed, "--dry-run"]
        _, _, err = run("place", "harbour-lights.musicxml", *request)
        assert err.startswith(f"error: {option}: ")


def test_a_file_that_is_no_score_is_told_by_its_name(run, harbour):
    assert "harbour-band.yaml" in run("footnotes", "harbour-band.yaml")[2]


def test_options_that_a_plan_would_drop_are_refused(run, harbour):
    plan = ["harbour-lights.musicxml", "--plan", "harbour-plan.yaml", "--dry-run"]
    for option in (["--beat", "3"], ["--carry"], ["--manner", "slap"], ["--tones", "1"]):
        assert run("place", *plan, *option)[0] == 2
    assert run("place", "harbour-lights.musicxml", *SLACK, *AT_BAR_5, "--tones", "")[0] == 2


def test_carry_and_show_as_one_types_them(run, monkeypatch, tmp_path):
    status, out, err = run("carry", "alto-slack-water", "--to", "tenor", "baritone")
    assert status == 0
    assert "tenor" in out
    assert "baritone" in out
    assert "demonstration's sonorities, all invented" in err
    assert run("show", "alto-slack-water")[0] == 0


def test_a_tone_that_is_missing_is_told_with_its_line_in_the_plan(run, harbour):
    (harbour / "p.yaml").write_text(
        "reedchord: plan\nversion: 1\ncollection: harbour-band.yaml\nplacements:\n"
        "  - {sonority: alto-tide-mill, part: P2, bar: 5, tones: [9]}\n"
        "  - {sonority: alto-tide-mill, part: P2, bar: 6, emphasised: C4}\n",
        "utf-8",
    )
    status, _, err = run("place", "harbour-lights.musicxml", "--plan", "p.yaml", "-o", "o.xml")
    assert status == 2
    assert "line 5" in err
    assert "line 6" in err


def test_all_mistakes_of_a_plan_are_told_with_their_lines(run, harbour):
    (harbour / "p.yaml").write_text(
        "reedchord: plan\nversion: 1\ncollection: harbour-band.yaml\nplacements:\n"
        "  - {sonority: alto-slack-water, part: P2, bar: 77}\n"
        "  - {sonority: nobody, part: P2, bar: 5}\n",
        "utf-8",
    )
    status, _, err = run("place", "harbour-lights.musicxml", "--plan", "p.yaml", "-o", "o.xml")
    assert status == 2
    assert "line 5" in err
    assert "line 6" in err
    assert not (harbour / "o.xml").exists()


def test_strip_gives_the_exact_bytes_back(run, harbour):
    placed = "harbour-lights-placed.musicxml"
    status, _, err = run("strip", placed, "-o", "back.musicxml")
    assert (status, "placements taken out: 7" in err) == (0, True)
    original = (harbour / "harbour-lights.musicxml").read_bytes()
    assert (harbour / "back.musicxml").read_bytes() == original
    assert run("strip", "harbour-lights.musicxml", "-o", "x.xml")[0] == 2


def test_the_plan_of_a_score_gives_the_same_score(run, harbour):
    status, out, _ = run("plan", "harbour-lights-placed.musicxml")
    assert status == 0
    (harbour / "held.yaml").write_text(out, "utf-8")
    arguments = ["--plan", "held.yaml", "-c", "harbour-band.yaml", "-o", "again.musicxml"]
    assert run("place", "harbour-lights.musicxml", *arguments)[0] == 0
    placed = (harbour / "harbour-lights-placed.musicxml").read_bytes()
    assert (harbour / "again.musicxml").read_bytes() == placed
    assert run("plan", "harbour-lights.musicxml")[0] == 2


def test_show_and_carry(run, harbour):
    status, out, _ = run("show", *SLACK, "--a4", "442")
    assert status == 0
    assert "A4 = 442" in out
    assert "teacher" in " ".join(out.split())
    status, out, err = run("carry", "baritone-engine-room", "-c", "harbour-band.yaml", "--all")
    assert status == 0
    assert "cannot be fingered: no low A key" in out
    assert "only a trial" in err
    assert run("carry", *SLACK)[0] == 2
    assert run("carry", *SLACK, "--to", "oboe")[0] == 2


def test_collection_check(run, harbour):
    status, out, _ = run("collection", "check", "harbour-band.yaml")
    assert status == 0
    assert "16 sonorities" in out
    text = (harbour / "harbour-band.yaml").read_text("utf-8")
    (harbour / "bad.yaml").write_text(
        text.replace("evidence: invented", "evidence: sure", 1), "utf-8"
    )
    status, _, err = run("collection", "check", "harbour-band.yaml", "bad.yaml")
    assert status == 2
    assert "field evidence" in err
    (harbour / "bad.yaml").write_text("reedchord: collection\n  version: [", "utf-8")
    status, _, err = run("collection", "check", "bad.yaml")
    assert status == 2
    assert "line 2" in err


def test_own_faults_are_owned_up_to(run, harbour, monkeypatch):
    def broken(*_arguments, **_options):
        raise ZeroDivisionError("a slip of ours")

    monkeypatch.setattr("reedchord.card.card_text", broken)
    status, _, err = run("show", *SLACK)
    assert status == 70
    assert "a fault in reedchord, not yours" in err
    assert "Traceback" not in err


def test_every_command_has_help(run):
    for command in ("place", "carry", "footnotes", "show", "demo", "collection"):
        status, out, _ = run(command, "--help")
        assert status == 0
        assert "Usage" in out

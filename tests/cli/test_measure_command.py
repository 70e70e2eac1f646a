"""`reedchord measure` as it is typed."""

import json

import numpy as np
import pytest

from reedchord import score_files
from reedchord.collection_reading import read_collection
from reedchord.wording import CAUTIONS
from takes import build_up, crescendo, held, write

RECORD = ("--fingering", "left 1 2 3 | right 1", "-o", "mine.yaml")


@pytest.fixture
def take(harbour):
    return write(harbour / "take.wav", held())


def test_it_tells_tones_partials_and_cautions(take, run):
    status, text, _ = run("measure", take, "--saxophone", "alto")
    assert status == 0
    assert "take.wav: 2.16 s, alto saxophone, A4 = 440 Hz" in text
    assert "1  D♯4 −47" in text
    assert "p1   " in text
    assert "you say which are" in text
    assert all(caution in " ".join(text.split()) for caution in CAUTIONS)


def test_without_a_saxophone_written_pitches_are_open(take, run):
    status, text, _ = run("measure", take, "--partials", "0")
    assert status == 0
    assert "1  ?        F♯3 −47" in text
    assert "p1" not in text


def test_json_holds_all_of_it(take, run):
    status, text, talk = run("measure", take, "--saxophone", "alto", "--json")
    data = json.loads(text)
    assert (status, talk) == (0, "")
    [one] = data["takes"]
    assert [tone["presence"] for tone in one["tones"]] == [["dominant"], ["clear"], ["faint"]]
    assert one["partials"][0]["tone"] == 1
    assert len(data["tones"]) == 3
    assert data["cautions"] == list(CAUTIONS)


def test_the_tones_that_were_picked_become_a_record(take, run, harbour):
    status, _, talk = run("measure", take, "--saxophone", "alto", "--choose", "1,3", *RECORD)
    assert status == 0
    assert "tones 1, 3, measured" in talk
    assert "nothing is said about presence" in talk
    [record] = read_collection(harbour / "mine.yaml")
    assert (record.id, str(record.evidence), len(record.tones)) == ("take", "measured", 2)
    assert "the player's own take: take.wav" in str(record.source)
    # A second one is added, under ids of its own.
    assert run("measure", take, "--saxophone", "alto", "--choose", "2", *RECORD)[0] == 0
    assert list(read_collection(harbour / "mine.yaml").sonorities) == ["take", "take-2"]


def test_nothing_is_added_while_another_program_adds(take, run, harbour, monkeypatch):
    monkeypatch.setattr(score_files, "MOST_SECONDS_WAITED", 0.0)
    with score_files.in_turn(harbour / "mine.yaml"):
        status, _, err = run("measure", take, "--saxophone", "alto", "--choose", "all", *RECORD)
    assert (status, "another program is adding to it" in err) == (2, True)
    assert not (harbour / "mine.yaml").exists()


def test_a_crescendo_with_its_dynamics_gives_presence(harbour, run):
    levels = ((0, 0, 0), (-6, -6, -6), (-70, -70, -6))
    path = write(harbour / "crescendo.flac", crescendo(levels))
    arguments = ("--saxophone", "alto", "--choose", "all", "--dynamics", "pp-ff", *RECORD)
    assert run("measure", path, *arguments)[0] == 0
    [record] = read_collection(harbour / "mine.yaml")
    last = record.tones[2]
    assert (str(last.presence_at("pp")), str(last.presence_at("ff"))) == ("absent", "clear")
    assert str(record.dynamics) == "pp-ff"


def test_nobody_having_picked_is_no_picking(take, run, harbour):
    status, _, talk = run("measure", take, "--saxophone", "alto", *RECORD)
    assert status == 2
    assert "nobody has said which tones go into the record" in talk
    assert "--choose with numbers of 1, 2, 3" in talk
    assert not (harbour / "mine.yaml").exists()


def test_on_a_terminal_it_asks(take, run, harbour, monkeypatch):
    answers = iter(["9\n", "?\n", "2\n"])
    monkeypatch.setattr("sys.stdin.isatty", lambda: True, raising=False)
    monkeypatch.setattr("sys.stdin.readline", lambda: next(answers), raising=False)
    status, _, talk = run("measure", take, "--saxophone", "alto", *RECORD)
    assert status == 0
    assert "9 is no number of a proposed tone" in talk
    assert len(next(iter(read_collection(harbour / "mine.yaml"))).tones) == 1


def test_a_recording_does_not_tell_the_fingering(take, run):
    status, _, talk = run(
        "measure", take, "--saxophone", "alto", "--choose", "1", "-o", "mine.yaml"
    )
    assert status == 2
    assert "a recording does not tell the fingering" in talk


def test_what_is_picked_without_a_record_is_not_lost_silently(take, run):
    status, _, talk = run("measure", take, "--choose", "1")
    assert status == 2
    assert "--choose tells what goes into a record, but none is written" in talk


def test_a_record_of_a_collection_gives_saxophone_and_fingering(take, run, harbour):
    arguments = ("--saxophone", "alto", "--choose", "all", "--id", "gull", *RECORD)
    run("measure", take, *arguments)
    others = write(harbour / "others.ogg", held(seed=3))
    status, text, _ = run(
        "measure", take, others, "--sonority", "gull", "-c", "mine.yaml", "--a4", "445",
        "--choose", "all", "--id", "gull-again", "-o", "new.yaml",
    )  # fmt: skip
    assert status == 0
    assert "2 takes together" in text
    assert "beside the record gull" in text
    assert "all lie about −2" in text
    [again] = read_collection(harbour / "new.yaml")
    assert str(again.fingering) == "left 1 2 3 | right 1"


def test_a_picture(take, run, harbour):
    status, _, talk = run("measure", take, "--saxophone", "alto", "--picture", "take.svg")
    assert status == 0
    assert "wrote take.svg" in talk
    assert "written D♯4" in (harbour / "take.svg").read_text("utf-8")


def test_a_set_up_gives_saxophone_and_says_whose_take_it_is(take, run, harbour):
    (harbour / "mine-set-up.yaml").write_text(
        "reedchord: set-up\nversion: 1\nid: mine\nplayer: O. B.\nsaxophone: alto\n", "utf-8"
    )
    assert run("measure", take, "--set-up", "mine-set-up.yaml", "--choose", "1", *RECORD)[0] == 0
    [record] = read_collection(harbour / "mine.yaml")
    assert record.set_up.startswith("O. B., alto saxophone")


def test_part_of_a_take(harbour, run):
    path = write(harbour / "built.wav", build_up())
    _, text, _ = run("measure", path, "--to", "1.0", "--json")
    assert len(json.loads(text)["takes"][0]["tones"]) == 1


def test_silence_ends_with_status_one_and_a_sentence(harbour, run):
    path = write(harbour / "silent.wav", np.zeros(44_100))
    status, text, _ = run("measure", path)
    assert status == 1
    assert "the take is silent" in text


def test_mistakes_are_told_without_a_traceback(harbour, run, take):
    (harbour / "letter.wav").write_text("a letter", encoding="utf-8")
    status, _, talk = run("measure", "letter.wav")
    assert status == 2
    assert "letter.wav: this cannot be read as sound" in talk
    assert run("measure", take, "--saxophone", "kazoo")[0] == 2
    assert (
        run("measure", take, "--choose", "1", "--saxophone", "alto", *RECORD, "--id", "no id")[0]
        == 2
    )

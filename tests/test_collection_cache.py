from __future__ import annotations

import hashlib
import pickle
import subprocess
import sys
from pathlib import Path

import platformdirs
import pytest

from reedchord import collection_cache, collection_reading, kept_files
from reedchord.collection_cache import cached_collection
from reedchord.collection_reading import read_collection
from reedchord.demo_paths import COLLECTION, shipped_path
from reedchord.errors import ReedchordError
from reedchord.kept_files import cache_folder


@pytest.fixture
def band(tmp_path):
    file = tmp_path / "band.yaml"
    file.write_bytes(shipped_path(COLLECTION).read_bytes())
    return file


@pytest.fixture
def readings(monkeypatch):
    """How often collections were really read."""
    paths = []

    def read(path):
        paths.append(path)
        return read_collection(path)

    monkeypatch.setattr(collection_reading, "read_collection", read)
    return paths


def entries():
    return sorted(cache_folder().iterdir())


def test_what_was_read_before_is_not_read_again(band, readings):
    first, second = cached_collection(band), cached_collection(band)
    assert len(readings) == 1
    assert first == second == read_collection(band)
    assert second["alto-slack-water"].concert_pitches == first["alto-slack-water"].concert_pitches


def test_a_changed_file_is_read_anew(band, readings):
    before = cached_collection(band)
    band.write_text(band.read_text("utf-8").replace("Slack water", "Low water"), "utf-8")
    assert before["alto-slack-water"].name == "Slack water"
    assert cached_collection(band)["alto-slack-water"].name == "Low water"
    assert len(readings) == 2


def test_what_was_given_back_stays_whole_without_its_entry(band):
    read = cached_collection(band)
    kept = cached_collection(band)
    (entry,) = entries()
    entry.unlink()
    band.write_text(band.read_text("utf-8").replace("Slack water", "Low water"), "utf-8")
    assert kept["alto-slack-water"].name == "Slack water"
    assert list(kept) == list(read)


def test_a_file_more_in_the_folder_is_seen(band, tmp_path):
    assert len(cached_collection(tmp_path)) == 16
    (tmp_path / "more.yaml").write_text(
        "reedchord: collection\nversion: 1\nsonorities:\n"
        "  - {id: gull, saxophone: alto, fingering: left 1, tones: [{written: A4}],"
        " evidence: invented}\n",
        "utf-8",
    )
    assert "gull" in cached_collection(tmp_path)


def test_the_same_bytes_under_another_name_have_their_own_messages(band, tmp_path):
    other = tmp_path / "other.yaml"
    other.write_bytes(band.read_bytes())
    assert cached_collection(band).origin == str(band)
    assert cached_collection(other).origin == str(other)


def test_a_file_changed_while_it_is_read_is_not_kept(band, monkeypatch):
    def read(path):
        collection = read_collection(path)
        band.write_text(band.read_text("utf-8").replace("Slack water", "Low water"), "utf-8")
        return collection

    monkeypatch.setattr(collection_reading, "read_collection", read)
    cached_collection(band)
    assert not cache_folder().exists() or not entries()


def test_other_code_reads_anew(band, readings, monkeypatch):
    cached_collection(band)
    monkeypatch.setattr(collection_cache, "_readers", lambda: "a later version")
    cached_collection(band)
    assert len(readings) == 2


def test_mistakes_are_told_every_time(tmp_path):
    broken = tmp_path / "broken.yaml"
    broken.write_text("reedchord: collection\nversion: 1\nsonorities: 3\n", "utf-8")
    for _ in range(2):
        with pytest.raises(ReedchordError, match="sonorities"):
            cached_collection(broken)
    assert not cache_folder().exists() or not entries()


@pytest.mark.parametrize("keep_bytes", [0, 20, 200, -1])
def test_a_damaged_entry_is_passed_over(band, readings, keep_bytes):
    cached_collection(band)
    (entry,) = entries()
    whole = entry.read_bytes()
    entry.write_bytes(whole[:keep_bytes])
    assert len(cached_collection(band)) == 16
    assert len(readings) == 2
    assert entry.read_bytes() == whole


def test_an_entry_makes_nothing_but_records(band, readings):
    """An entry that somebody forged, with the right checksum, runs no code of theirs."""
    cached_collection(band)
    (entry,) = entries()
    bodies = [pickle.dumps(forged) for forged in (print, subprocess.run, Path, 3, [], {})]
    too_large = b"\x96" + b"\xff" * 8 + b"."  # protocol 5, BYTEARRAY8 of 2**64 - 1 bytes
    for body in (*bodies, b"Psource heron\n.", b"(", b"", too_large):
        entry.write_bytes(hashlib.sha256(body).digest() + body)
        assert len(cached_collection(band)) == 16
    assert len(readings) == 11


@pytest.mark.parametrize("word", ["off", "OFF", ""])
def test_the_cache_can_be_switched_off(band, readings, monkeypatch, word):
    monkeypatch.setenv("REEDCHORD_CACHE", word)
    cached_collection(band)
    cached_collection(band)
    assert len(readings) == 2


def test_a_folder_that_cannot_be_written_does_not_matter(band, tmp_path, monkeypatch):
    (tmp_path / "file").write_text("no folder")
    monkeypatch.setenv("REEDCHORD_CACHE", str(tmp_path / "file" / "cache"))
    assert len(cached_collection(band)) == 16


@pytest.mark.skipif(sys.platform != "linux", reason="the home of a user as Linux tells it")
def test_a_user_without_a_home_has_no_cache(band, readings, monkeypatch):
    def unknown(_):
        raise KeyError("uid not found")

    for name in ("REEDCHORD_CACHE", "XDG_CACHE_HOME", "HOME"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr("pwd.getpwuid", unknown)
    assert cache_folder() is None
    assert len(cached_collection(band)) == len(cached_collection(band)) == 16
    assert len(readings) == 2


def test_old_entries_are_forgotten(band, monkeypatch):
    monkeypatch.setattr(kept_files, "MOST_ENTRIES", 3)
    for name in "abcde":
        other = band.with_name(f"{name}.yaml")
        other.write_bytes(band.read_bytes())
        cached_collection(other)
    assert len(entries()) == 3


def test_programs_that_write_at_once_leave_a_whole_entry(band, tmp_path):
    code = (
        "import sys; from reedchord.collection_cache import cached_collection\n"
        "for _ in range(20):\n"
        "    assert len(list(cached_collection(sys.argv[1]))) == 16\n"
        "    [e.unlink(missing_ok=True) for e in"
        " __import__('reedchord.collection_cache').collection_cache.cache_folder().iterdir()]\n"
    )
    programs = [subprocess.Popen([sys.executable, "-c", code, str(band)]) for _ in range(3)]
    assert [program.wait() for program in programs] == [0, 0, 0]
    assert cached_collection(band) == read_collection(band)


@pytest.mark.parametrize("base", ["/elsewhere", "relative", "", None])
def test_the_folder_is_the_one_that_platformdirs_names(monkeypatch, base):
    monkeypatch.delenv("REEDCHORD_CACHE")
    monkeypatch.delenv("XDG_CACHE_HOME", raising=False)
    if base is not None:
        monkeypatch.setenv("XDG_CACHE_HOME", base)
    wanted = platformdirs.user_cache_dir("reedchord", appauthor=False)  # package platformdirs
    assert cache_folder() == Path(wanted)

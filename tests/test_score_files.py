"""Scores on disk: whole or not at all, whatever happens while they are written."""

import errno
import io
import os
import signal
import stat
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from random import Random

import pytest

from reedchord import score_files
from reedchord.errors import InputError
from reedchord.score_files import in_turn, read_bytes, write_atomically

OLD, NEW = b"old " * 100_000, b"new " * 150_000
SOURCES = Path(score_files.__file__).parents[1]


@pytest.fixture
def file(tmp_path):
    path = tmp_path / "score.musicxml"
    path.write_bytes(OLD)
    path.chmod(0o640)
    return path


def test_the_new_file_keeps_the_mode_and_nothing_is_left_over(file):
    assert write_atomically(file, NEW)
    assert file.read_bytes() == NEW
    assert stat.S_IMODE(file.stat().st_mode) == 0o640
    assert list(file.parent.iterdir()) == [file]


def test_a_new_file_has_the_usual_mode(tmp_path):
    write_atomically(tmp_path / "ours", NEW)
    (tmp_path / "usual").touch()
    assert (tmp_path / "ours").stat().st_mode == (tmp_path / "usual").stat().st_mode


def test_an_unchanged_file_is_not_touched(file):
    os.utime(file, (1, 1))
    assert not write_atomically(file, OLD)
    assert file.stat().st_mtime == 1


def test_links_are_followed(file):
    link = file.parent / "link"
    link.symlink_to(file.name)
    write_atomically(link, NEW)
    assert link.is_symlink()
    assert file.read_bytes() == NEW


def test_a_name_as_long_as_names_may_be(tmp_path):
    path = tmp_path / ("n" * 255)
    write_atomically(path, NEW)
    assert path.read_bytes() == NEW


def test_what_is_no_ordinary_file_is_written_into_and_stays(tmp_path):
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    reader = os.open(pipe, os.O_RDONLY | os.O_NONBLOCK)
    try:
        assert write_atomically(pipe, b"short")
        assert os.read(reader, 100) == b"short"
    finally:
        os.close(reader)
    assert stat.S_ISFIFO(pipe.stat().st_mode)


def test_a_file_that_is_marked_read_only_stays(file, monkeypatch):
    monkeypatch.setattr(os, "access", lambda *_: False)  # root may write everywhere
    with pytest.raises(InputError, match="marked read-only") as caught:
        write_atomically(file, NEW)
    assert caught.value.code == "file.unwritable"
    assert file.read_bytes() == OLD


@pytest.mark.parametrize("place", ["folder", "no/such/folder", "score.musicxml/inside"])
def test_where_nothing_can_be_written(file, place):
    (file.parent / "folder").mkdir()
    with pytest.raises(InputError, match="cannot be written") as caught:
        write_atomically(file.parent / place, NEW)
    assert caught.value.code == "file.unwritable"
    assert caught.value.where.path.endswith(place)


def test_a_file_without_an_end_is_not_read_to_its_end(monkeypatch):
    monkeypatch.setattr(score_files, "MAX_SCORE_BYTES", 1_000)
    for endless in ("/dev/zero", "-"):
        monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(bytes(2_000))))
        with pytest.raises(InputError, match="1,000 bytes") as caught:
            read_bytes(Path(endless))
        assert caught.value.code == "file.size"


STEPS = ["tempfile.mkstemp", "os.fdopen", "os.fsync", "pathlib.Path.chmod", "pathlib.Path.replace"]
FAULTS = [OSError(errno.ENOSPC, "No space left on device"), KeyboardInterrupt(), MemoryError()]


@pytest.mark.parametrize("fault", FAULTS, ids=lambda fault: type(fault).__name__)
@pytest.mark.parametrize("step", STEPS)
def test_a_step_that_fails_leaves_the_old_file_and_nothing_else(file, monkeypatch, step, fault):
    def fail(*_args, **_more):
        raise fault

    monkeypatch.setattr(step, fail)
    expected = InputError if isinstance(fault, OSError) else type(fault)
    with pytest.raises(expected):
        write_atomically(file, NEW)
    monkeypatch.undo()
    assert file.read_bytes() == OLD
    assert list(file.parent.iterdir()) == [file]


def test_a_disk_that_is_full_in_the_middle_of_the_bytes(file, monkeypatch):
    class Full(io.FileIO):
        def write(self, data):
            super().write(data[: len(data) // 2])
            raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "fdopen", Full)
    with pytest.raises(InputError, match="No space left on device"):
        write_atomically(file, NEW)
    assert file.read_bytes() == OLD
    assert list(file.parent.iterdir()) == [file]


WRITES_FOR_EVER = """
import sys
from pathlib import Path
from reedchord.score_files import write_atomically
path, old, new = Path(sys.argv[1]), b"old " * 100_000, b"new " * 150_000
print("ready", flush=True)
while True:
    write_atomically(path, new)
    write_atomically(path, old)
"""
KILLS = 15


def test_killed_at_any_moment_the_old_or_the_new_file_is_there(file):
    chance, seen = Random("kill"), set()
    for _ in range(KILLS):
        writer = subprocess.Popen(
            [sys.executable, "-c", WRITES_FOR_EVER, str(file)],
            env=os.environ | {"PYTHONPATH": str(SOURCES)},
            stdout=subprocess.PIPE,
        )
        with writer:
            assert writer.stdout.readline() == b"ready\n"
            time.sleep(chance.uniform(0, 0.03))
            writer.send_signal(signal.SIGKILL)
        seen.add(file.read_bytes())
        assert stat.S_IMODE(file.stat().st_mode) == 0o640
    assert seen <= {OLD, NEW}
    assert write_atomically(file, b"the last word")
    assert file.read_bytes() == b"the last word"


def test_what_many_add_at_once_is_all_there(tmp_path):
    path = tmp_path / "log.yaml"

    def add(line):
        with in_turn(path):
            before = path.read_bytes() if path.exists() else b""
            time.sleep(0.005)  # so that others come in between
            write_atomically(path, before + line)

    lines = [f"{number}\n".encode() for number in range(20)]
    with ThreadPoolExecutor(8) as pool:
        list(pool.map(add, lines))
    assert sorted(path.read_bytes().splitlines(keepends=True)) == sorted(lines)
    assert list(tmp_path.iterdir()) == [path]


def test_a_turn_ends_when_what_was_to_be_written_fails(file):
    with pytest.raises(ZeroDivisionError), in_turn(file):
        raise ZeroDivisionError
    assert list(file.parent.iterdir()) == [file]


def test_a_turn_that_does_not_come_is_told(file, monkeypatch):
    monkeypatch.setattr(score_files, "MOST_SECONDS_WAITED", 0.0)
    with in_turn(file):
        [turn] = set(file.parent.iterdir()) - {file}
        with pytest.raises(InputError, match="another program is adding to it") as told:
            in_turn(file).__enter__()
    assert str(turn) in told.value.hint
    assert not turn.exists()

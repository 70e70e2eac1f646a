"""A folder with the demonstration in it, and the command run in process."""

from __future__ import annotations

import pytest

from reedchord.cli.app import main
from reedchord.demo import demo_files, write_demo


@pytest.fixture
def harbour(tmp_path, monkeypatch):
    write_demo(tmp_path, demo_files()[1])
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture
def run(monkeypatch, capsysbinary):
    """Return a function that runs `reedchord` and gives its status, output and talk."""

    def run(*arguments):
        monkeypatch.setattr("sys.argv", ["reedchord", *map(str, arguments)])
        status = 0
        try:
            main()
        except SystemExit as end:
            status = end.code or 0
        captured = capsysbinary.readouterr()
        return status, captured.out.decode("utf-8"), captured.err.decode("utf-8")

    return run

"""Files that are read: what is said of those that are not there."""

from pathlib import Path

import pytest

from reedchord.errors import InputError
from reedchord.input_files import missing, read_text


@pytest.fixture
def folder(tmp_path):
    for name in ("score.musicxml", "band.yaml", "plan.yml", ".hidden.yaml"):
        (tmp_path / name).write_text("x", "utf-8")
    return tmp_path


@pytest.mark.parametrize(
    ("name", "endings", "hint"),
    [
        ("scoer.musicxml", (), "Did you mean score.musicxml?"),
        ("score.xml", (), "Did you mean score.musicxml?"),
        ("qqqq.yaml", (), "There are: band.yaml."),
        ("qqqq", (".yaml", ".yml"), "There are: band.yaml, plan.yml."),
        ("qqqq.wav", (), None),
        ("no/where.yaml", (), "There is no folder"),
    ],
)
def test_near_names_are_offered(folder, name, endings, hint):
    told = missing(folder / name, endings).hint
    assert told == hint or (hint == "There is no folder" and told.startswith(hint))


@pytest.mark.parametrize(
    ("data", "words"), [(b"\xff\xfe\xe4", "not UTF-8 (byte 0)"), (None, "there is no such file")]
)
def test_text_that_cannot_be_read_is_told_with_its_path(tmp_path, data, words):
    path = Path(tmp_path / "x.yaml")
    if data is not None:
        path.write_bytes(data)
    with pytest.raises(InputError) as caught:
        read_text(path)
    assert str(path) in str(caught.value)
    assert words in str(caught.value)


def test_a_folder_is_no_text(tmp_path):
    with pytest.raises(InputError, match="cannot be read"):
        read_text(tmp_path)

"""What a player who writes the file of a set-up is told."""

import pytest

from oda import SET_UP_TEXT
from reedchord.errors import ReedchordError
from reedchord.own_file import parse_own_text
from reedchord.trials.set_ups import EXAMPLE, SetUpFile, read_set_up


@pytest.mark.parametrize(
    "text", ["player: Oda\n", "reedchord: set-up\nversion: 2\nid: o\nsaxophone: kazoo\n"]
)
def test_mistakes_show_once_how_a_set_up_looks(tmp_path, text):
    file = tmp_path / "o.yaml"
    file.write_text(text)
    with pytest.raises(ReedchordError) as caught:
        read_set_up(file)
    assert str(caught.value).count("reedchord: set-up\n    version: 1\n") == 1


def test_a_file_that_is_not_there_shows_it_too(tmp_path):
    with pytest.raises(ReedchordError, match="saxophone: alto"):
        read_set_up(tmp_path / "o.yaml")


@pytest.mark.parametrize(("typed", "strength"), [("3", "3"), ("2.5", "2.5"), ("'3½'", "3½")])
def test_a_strength_of_reed_may_be_a_number(typed, strength):
    text = f"{SET_UP_TEXT.replace('no. 3', typed)}mouthpiece: 7\n"
    record = parse_own_text(SetUpFile, text, "oda.yaml", "a set-up").record
    assert (record.reed, record.mouthpiece) == (strength, "7")
    assert f"mouthpiece 7, reed {strength}" in record.words()


def test_the_example_is_a_set_up():
    lines = [line.strip() for line in EXAMPLE.splitlines()[1:]]
    record = parse_own_text(SetUpFile, "\n".join(lines), "example.yaml", "a set-up").record
    assert record.saxophone.name == "alto"

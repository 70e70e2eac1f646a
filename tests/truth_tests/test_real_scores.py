"""The real scores are what the notes beside their names say."""

import re

import pytest

from truth.musicxml_schema import new_schema_errors
from truth.real_scores import NAMED, score_paths, with_saxophone
from truth.score_text import as_text, encoding_of, root_file
from truth_tests.small_scores import C_MAJOR, as_utf16, chord_score

# name: codec, line ends, parts, rests
COUNTED = {
    "utf16 quartet": ("utf-16-le", "\r\n", 4, 2477),
    "utf16 plain": ("utf-16-le", "\n", 3, 0),
    "utf16 madrigal": ("utf-16-le", "\r\n", 5, 94),
    "crlf melody": ("utf-8", "\r\n", 1, 18),
    "crlf gloria": ("utf-8", "\r\n", 3, 62),
    "cr chorale": ("utf-8", "\r", 4, 4),
    "cr piano": ("utf-8", "\r", 1, 31),
    "latin1 rests": ("iso-8859-1", "\n", 1, 5),
    "old faults": ("utf-8", "\r\n", 4, 95),
    "bundled parts": ("utf-8", "\n", 4, 3049),
    "voice and clarinet": ("utf-8", "\n", 2, 38),
    "chorale": ("utf-8", "\n", 4, 16),
    "transposing clarinet": ("utf-8", "\n", 2, 514),
    "octave change": ("utf-8", "\n", 3, 24),
    "version 4 voices": ("utf-8", "\n", 3, 36),
}


def test_every_named_score_is_among_all_scores():
    assert set(NAMED.values()) <= set(score_paths())
    assert len(score_paths()) == 797  # music21 10.5.1


@pytest.mark.parametrize("name", COUNTED)
def test_encoding_line_ends_parts_and_rests_are_as_noted(name):
    data = root_file(NAMED[name].read_bytes())
    text = data.decode(encoding_of(data))
    line_ends = set(re.findall(r"\r\n|\r|\n", text))
    parts, rests = re.findall(r"<score-part ", text), re.findall(r"<rest\b", text)
    assert (encoding_of(data), "".join(line_ends), len(parts), len(rests)) == COUNTED[name]


@pytest.mark.parametrize("name", NAMED)
def test_a_saxophone_can_be_made_of_the_first_part_of_any_score(name):
    before = root_file(NAMED[name].read_bytes())
    part_id = re.search(r"""<score-part\s+id\s*=\s*["'](\w+)""", as_text(before))[1]
    after = with_saxophone(before, part_id)
    (old_start, old_entry, old_rest), (start, entry, rest) = map(
        _around_first_part, (before, after)
    )
    assert re.search(r"<part-name[^>]*>Alto Saxophone</part-name>", entry)
    assert entry != old_entry
    assert (start, rest) == (old_start, old_rest)


def _around_first_part(data):
    text = data.decode(encoding_of(data))
    start, end = text.index("<score-part "), text.index("</score-part>")
    return text[:start], text[start:end], text[end:]


def test_only_the_names_of_that_part_change():
    before = root_file(NAMED["voice and clarinet"].read_bytes())
    after = with_saxophone(before, "P1", "Tenor Saxophone", "wind.reed.saxophone.tenor")
    old, new = before.splitlines(), after.splitlines()
    changed = [line.strip() for line, was in zip(new, old, strict=True) if line != was]
    assert changed == [
        b"<part-name>Tenor Saxophone</part-name>",
        b"<instrument-name>Tenor Saxophone</instrument-name>",
        b"<instrument-sound>wind.reed.saxophone.tenor</instrument-sound>",
    ]
    assert new_schema_errors(before, after) == []


def test_empty_names_in_utf16_are_filled():
    empty = chord_score(*C_MAJOR).replace(b"<part-name>Alto Saxophone</part-name>", b"<part-name/>")
    assert with_saxophone(as_utf16(empty), "P1") == as_utf16(chord_score(*C_MAJOR))


def test_an_unknown_part_is_told():
    with pytest.raises(AssertionError, match="no score-part P9"):
        with_saxophone(chord_score(*C_MAJOR), "P9")


def test_the_root_of_a_container_is_what_its_index_says():
    assert root_file(NAMED["mxl with pdf"].read_bytes()).startswith(b"<?xml")
    assert b"<score-partwise" in root_file(NAMED["mxl with junk"].read_bytes())

"""Files as people save them: YAML and JSON, tidy and broken, with the line of every field."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st
from ruamel.yaml import YAML

from reedchord.data_text import MAX_DEPTH, field_text
from reedchord.errors import InputError
from reedchord.yaml_text import read_composed, read_data_text

TWO_TONES = """\
id: heron
tones:
  - written: F#4-12
    presence: {p: faint,
               f: clear}
  - written: Bb5
"""


def where(document, *path):
    place = document.where(path)
    return place.line, place.column


def refused(text, file="heron.yaml"):
    with pytest.raises(InputError) as caught:
        read_data_text(text, file)
    return caught.value


def test_every_field_of_a_yaml_text_has_its_line_and_column():
    document = read_data_text(TWO_TONES, "heron.yaml")
    assert document.data == {
        "id": "heron",
        "tones": [
            {"written": "F#4-12", "presence": {"p": "faint", "f": "clear"}},
            {"written": "Bb5"},
        ],
    }
    assert where(document) == (1, 1)
    assert where(document, "tones") == (2, 1)
    assert where(document, "tones", 0) == (3, 5)
    assert where(document, "tones", 0, "presence", "f") == (5, 16)
    assert where(document, "tones", 1, "written") == (6, 5)


def test_a_field_that_is_not_there_is_looked_for_around_it():
    document = read_data_text(TWO_TONES, "heron.yaml")
    assert where(document, "tones", 1, "concert") == (6, 5)
    assert where(document, "evidence") == (1, 1)


def test_json_has_lines_and_columns_too():
    text = '{"id": "heron",\n\t"tones": [\n\t\t{"written": "F#4-12"},\n  {"written": "Bb5"}]}'
    document = read_data_text(text, "heron.json")
    assert document.data["tones"][1] == {"written": "Bb5"}
    assert where(document, "tones") == (2, 2)
    assert where(document, "tones", 0) == (3, 3)
    assert where(document, "tones", 1, "written") == (4, 4)


def test_json_escapes_a_quarter_sharp_as_two_halves():
    # RFC 8259, section 7: a character beyond U+FFFF is escaped as a pair of surrogates.
    document = read_data_text('{"written": "F\\ud834\\udd324"}', "heron.json")
    assert document.data == {"written": "F𝄲4"}


@pytest.mark.parametrize(
    ("written", "read"),
    [
        ("12", 12),
        ("-3", -3),
        ("012", "012"),
        ("1_0", "1_0"),
        ("0x1A", "0x1A"),
        ("9" * 5000, "9" * 5000),
        ("2.5", 2.5),
        ("true", True),
        ("yes", "yes"),
        ("null", None),
        ("", None),
        ("2026-11-25", "2026-11-25"),
        ("'12'", "12"),
        ("Bb3", "Bb3"),
    ],
)
def test_a_number_that_would_lose_digits_stays_text(written, read):
    data = read_data_text(f"page: {written}\n", "heron.yaml").data
    assert data == {"page": read}
    assert type(data["page"]) is type(read)


@pytest.mark.parametrize("file", ["heron.yaml", "heron.json"])
@pytest.mark.parametrize("text", ["", "  \n\n", "\ufeff"])
def test_an_empty_file(text, file):
    error = refused(text, file)
    assert error.code == "data.empty"
    assert str(error) == f"{file}: the file is empty"


def test_a_file_of_comments_is_empty():
    assert refused("# heron\n# egret\n").code == "data.empty"


def test_a_list_at_the_top_is_read():
    assert read_data_text("- heron\n- egret\n", "birds.yaml").data == ["heron", "egret"]


@pytest.mark.parametrize("line_end", ["\n", "\r\n", "\r"])
def test_line_ends_of_every_system(line_end):
    document = read_data_text(TWO_TONES.replace("\n", line_end), "heron.yaml")
    assert where(document, "tones", 1, "written") == (6, 5)


def test_carriage_returns_in_json():
    document = read_data_text('{"a": 1,\r\n "b": 2}', "heron.json")
    assert where(document, "b") == (2, 2)


@pytest.mark.parametrize(("text", "file"), [("id: heron", "h.yaml"), ('{"id": "heron"}', "H.JSON")])
def test_a_byte_order_mark_does_not_matter(text, file):
    document = read_data_text(f"\ufeff{text}", file)
    assert document.data == {"id": "heron"}
    assert document.where(("id",)).line == 1


@pytest.mark.parametrize(
    ("text", "file", "line", "column"),
    [
        ("id: heron\nname: x\nid: egret\n", "heron.yaml", 3, 1),
        ("tones:\n  - {written: G5, written: A5}\n", "heron.yaml", 2, 19),
        ('{"id": "heron",\n "id": "egret"}', "heron.json", 2, 2),
        ('{"id": 1,\n "\\u0069d": 2}', "heron.json", 2, 2),
    ],
)
def test_a_field_given_twice_is_refused(text, file, line, column):
    error = refused(text, file)
    assert error.code == "data.twice"
    assert (error.where.line, error.where.column) == (line, column)


def test_a_tab_in_the_indentation():
    error = refused("tones:\n\t- written: G5\n")
    assert (error.where.line, error.where.column) == (2, 1)
    assert "never with tabs" in error.hint


@pytest.mark.parametrize(
    ("text", "line", "column"),
    [
        ("tones: [G5\n", 2, 1),
        ("name: 'heron\n", 2, 1),
        ("id: heron\n  name: x\n", 2, 7),
        ("id: *egret\n", 1, 5),
        ("id: heron\n---\nid: egret\n", 2, 1),
        ("? [heron]\n: 1\n", 1, 3),
    ],
)
def test_broken_yaml_names_the_place(text, line, column):
    error = refused(text)
    assert error.code in ("yaml.broken", "yaml.key")
    assert (error.where.line, error.where.column) == (line, column)


@pytest.mark.parametrize(
    ("text", "line", "column"),
    [
        ('{"id": "heron"\n "name": "x"}', 2, 2),
        ('{"id": "heron",}', 1, 16),
        ("{'id': 1}", 1, 2),
        ('{"a": 01}', 1, 8),
        ('{"a": 1} x', 1, 10),
        ('{"a": "\t"}', 1, 8),
    ],
)
def test_broken_json_names_the_place(text, line, column):
    error = refused(text, "heron.json")
    assert error.code == "json.broken"
    assert (error.where.line, error.where.column) == (line, column)


@pytest.mark.parametrize("number", ["NaN", "Infinity", "-Infinity"])
def test_json_has_no_such_numbers(number):
    # RFC 8259, section 6: numeric values such as Infinity and NaN are not permitted.
    error = refused(f'{{"cents": {number}}}', "heron.json")
    assert error.message == f"{number} is no JSON number"


def test_a_json_number_with_thousands_of_digits():
    assert refused("9" * 5000, "heron.json").code == "json.number"


def test_an_invisible_character_is_named_with_its_place():
    error = refused("id: heron\nname: Fog\x07\n")
    assert "U+0007" in error.message
    assert (error.where.line, error.where.column) == (2, 10)


def test_aliases_may_repeat_a_field():
    text = "a: &soft {p: faint}\nb: *soft\n"
    document = read_data_text(text, "heron.yaml")
    assert document.data == {"a": {"p": "faint"}, "b": {"p": "faint"}}


def test_an_alias_bomb_is_refused_at_once():
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 10)}]" for n in range(1, 12)]
    # Written out, these would be a million million fields.
    assert refused("\n".join(lines)).code == "yaml.aliases"


def test_an_alias_of_itself_is_refused():
    assert refused("a: &a [*a]\n").code == "data.depth"


@pytest.mark.parametrize("file", ["heron.yaml", "heron.json"])
@pytest.mark.parametrize("depth", [MAX_DEPTH + 2, 500, 20_000])
def test_deep_nesting_is_refused(file, depth):
    assert refused("[" * depth + "]" * depth, file).code == "data.depth"


def test_nesting_as_deep_as_allowed():
    text = "[" * MAX_DEPTH + "]" * MAX_DEPTH
    for file in ("heron.yaml", "heron.json"):
        assert json.dumps(read_data_text(text, file).data) == text


def test_a_path_reads_like_a_place_in_the_file():
    assert field_text(("tones", 1, "presence", "p-mf")) == "tones[2].presence.p-mf"
    assert field_text(()) == ""


JSON_DATA = st.recursive(
    st.none() | st.booleans() | st.integers(-(10**30), 10**30) | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=4), inner),
    max_leaves=12,
)


@given(JSON_DATA, st.sampled_from([None, 0, 2]), st.booleans())
def test_json_is_read_as_the_standard_library_reads_it(data, indent, ascii_only):
    text = json.dumps({"top": data}, indent=indent, ensure_ascii=ascii_only)
    document = read_data_text(text, "any.json")
    assert document.data == {"top": data}
    # Every part has a place of its own, and every name stands at its place.
    assert set(document.positions) == set(_paths({"top": data}))
    lines = text.split("\n")
    for path, (line, column) in document.positions.items():
        if path and isinstance(path[-1], str):
            name = json.dumps(path[-1], ensure_ascii=ascii_only)
            assert lines[line - 1][column - 1 :].startswith(f"{name}:")


def _paths(data, path=()):
    yield path
    entries = data.items() if isinstance(data, dict) else ()
    entries = enumerate(data) if isinstance(data, list) else entries
    for key, part in entries:
        yield from _paths(part, (*path, key))


@pytest.mark.parametrize(
    ("text", "line", "words", "hint"),
    [
        ("rows:\n\t- id: a\n", 2, "a tab", "spaces, never with tabs"),
        ("rows:\n  - id: a\n   name: b\n", 3, "indented otherwise", "Look at the indentation"),
        ('rows:\n  - id: "a\n    name: b\n', 4, "ends within quotes", "Close them"),
        ("rows:\n  - id a\n    name: b\n", 3, "a colon where none can be", "missing above"),
        ("rows:\n  - {id: a, advice: x: y}\n", 2, "a colon, or a bracket", "is quoted"),
        ("a: b\n---\na: c\n", 2, "a second document", "line of dashes"),
        ("%PDF-1.4", 1, "begins no entry", "another kind"),
    ],
)
def test_where_yaml_breaks_off_is_told_in_plain_words(text, line, words, hint):
    with pytest.raises(InputError) as caught:
        read_data_text(text, "x.yaml")
    told = caught.value
    assert told.where.line == line
    assert words in told.message
    assert hint in told.hint
    assert "<" not in told.message


def test_one_reading_gives_the_same_data_whether_or_not_comments_are_kept():
    text = """\
# A comment at the head.
plain: text   # and one beside
numbers: [1, 1.50, 0x1F, 007, 1e3, .inf, 12:30, 2026-01-31]
words: [yes, No, true, ~, null, "a\\tb", 'it''s']
folded: >
  some words that
  go on

  and on
kept: |
  line
    by line
base: &base {page: 3}
other: *base
"""
    plain = read_data_text(text, "a.yaml")
    fields, _ = read_composed(text, "a.yaml", YAML())
    assert fields == plain
    assert fields.data["folded"] == "some words that go on\nand on\n"

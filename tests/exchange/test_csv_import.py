"""Spreadsheets as people keep them, read as collections."""

from __future__ import annotations

import zipfile

import pytest

from reedchord.errors import ReedchordError
from reedchord.exchange.columns import Column, column_of
from reedchord.exchange.csv_import import import_csv
from reedchord.exchange.csv_mapping import parse_mapping

GERMAN = """\
Name;Instrument;Griff;Ton 1;Cent 1;Ton 2;Cent 2;Dynamik;Quelle;Seite;Farbe
Möwenruf;Alt;left 1 2 3 | right 1 3, E flat;F4;+12,5;D5;-18;p-f;Hafenbuch;8;grau

Nebelhorn;Tenorsaxophon;left 1 2 3 | right 1 2;E4;;B4;−31;mf;Hafenbuch;9;
"""
ENGLISH = """\
Saxophone,Fingering,Written pitches,Evidence,Speed
alto,left 1 2 3 | right 1 3,F#4-12 G5+31,invented,16th at quarter = 72
alto,left 1 2 3 | right 0,"E flat 4, C5+12.5",invented,
"""


def _import(text, **more):
    return import_csv(text.encode(), "sheet.csv", **more)


def _mistakes(text, **more):
    with pytest.raises(ReedchordError) as caught:
        _import(text, **more)
    return str(caught.value)


def _written(made, name):
    return list(map(str, made.collection[name].written_pitches))


def test_german_headings_semicolons_and_decimal_commas():
    made = _import(GERMAN)
    assert list(made.collection.sonorities) == ["mowenruf", "nebelhorn"]
    assert _written(made, "mowenruf") == ["F4+12.5", "D5-18"]
    assert _written(made, "nebelhorn") == ["E4", "B4-31"]
    gull, horn = made.collection
    assert (gull.saxophone.name, horn.saxophone.name) == ("alto", "tenor")
    assert str(gull.dynamics) == "p-f"
    assert str(gull.source) == "Hafenbuch, n.d., p. 8"
    assert gull.evidence == "documented"


def test_what_was_guessed_is_told_and_stands_in_the_file():
    made = _import(GERMAN)
    assert "read as UTF-8, cells separated by semicolon" in made.notes
    assert "guessed: column 3, 'Griff', holds: fingering" in made.notes
    assert any("'Farbe', is left out" in note for note in made.notes)
    assert "# Guessed: evidence: documented" in made.text
    assert made.text.startswith("# Imported from sheet.csv.\n# Read as UTF-8")


def test_several_tones_in_a_cell_and_names_of_our_own():
    made = _import(ENGLISH)
    assert list(made.collection.sonorities) == ["alto-2", "alto-3"]
    assert _written(made, "alto-2") == ["F#4-12", "G5+31"]
    assert _written(made, "alto-3") == ["Eb4", "C5+12.5"]
    assert [limit.words() for limit in made.collection["alto-2"].limits] == [
        "single tongue: up to 16ths at quarter = 72"
    ]


@pytest.mark.parametrize(
    ("encoding", "name"),
    [
        ("utf-8", "UTF-8"),
        ("utf-8-sig", "UTF-8 with a byte order mark"),
        ("utf-16", "UTF-16"),
        ("utf-16-le", "UTF-16"),
        ("utf-16-be", "UTF-16"),
        ("cp1252", "Windows-1252"),
    ],
)
def test_encodings(encoding, name):
    text = GERMAN.replace("−", "–")
    made = import_csv(text.encode(encoding), "sheet.csv")
    assert made.notes[0] == f"read as {name}, cells separated by semicolon"
    assert made.collection["mowenruf"].name == "Möwenruf"


def test_bytes_that_windows_does_not_know():
    data = b"name,sax,keys,tone 1,evidence\nM\xf6we \x81,alto,left 1,A4,invented\n"
    made = import_csv(data, "sheet.csv")
    assert made.notes[0] == "read as Latin-1, cells separated by comma"
    assert [one.name for one in made.collection] == ["Möwe \x81"]


def test_dashes_that_were_a_minus():
    rows = "name,sax,keys,tone 1,cents 1,tone 2,evidence\nA,alto,left 1,A4,–12,E6–31,invented\n"
    assert _written(_import(rows), "a") == ["A4-12", "E6-31"]


@pytest.mark.parametrize("sign", [",", ";", "\t", "|"])
def test_a_first_line_that_tells_the_separator(sign):
    """Some spreadsheets write it, and read no file without it where lists have another sign."""
    rows = [["name", "sax", "keys", "tone 1", "evidence"], ["A", "alto", "left 1", "A4", "what"]]
    lines = [f"sep={sign}", *(sign.join(row) for row in rows)]
    with pytest.raises(ReedchordError, match="line 3, column 5, record a, field evidence"):
        _import("\r\n".join(lines))
    made = _import("\r\n".join(lines).replace("what", "invented"))
    assert _written(made, "a") == ["A4"]


@pytest.mark.parametrize("sign", [",", ";", "\t", "|"])
def test_separators(sign):
    rows = [
        ["name", "saxophone", "keys", "tone 1", "tone 2", "evidence"],
        ["A", "bass", "left 1 2", "C4", "E5", "invented"],
    ]
    made = _import("\r\n".join(sign.join(row) for row in rows))
    assert _written(made, "a") == ["C4", "E5"]


def test_every_mistake_has_its_line_and_column():
    bad = GERMAN + 'Kaputt;Kazoo;left 1 9;H4;;B4;+x;mf;Hafenbuch;9;""\n'
    told = _mistakes(bad)
    assert "sheet.csv, line 5, column 2, record kaputt, field saxophone: 'Kazoo'" in told
    assert "There are: sopranino, soprano, alto, C melody, tenor, baritone, bass" in told
    assert "line 5, column 3, record kaputt, field fingering: '9' at column 8" in told
    assert "line 5, column 4, record kaputt, field tones[1].written: 'H4' is no pitch" in told
    assert "line 5, column 7, record kaputt, field tones[2].written: 'B4+x' is no pitch" in told


def test_nothing_is_half_imported_unless_it_is_asked_for():
    bad = GERMAN + "Kaputt;Alt;left 1 9;C4;;B4;;mf;Hafenbuch;9;\n"
    made = _import(bad, skip_bad=True)
    assert len(made.collection) == 2
    assert [error.where.line for error in made.skipped] == [5]
    only_bad = "\n".join([GERMAN.splitlines()[0], bad.splitlines()[-1]])
    assert "'9' at column 8" in _mistakes(only_bad, skip_bad=True)


def test_a_row_that_is_too_wide_is_told_with_all_other_mistakes():
    bad = GERMAN + "Breit;Alt;left 1;C4;;B4;;mf;Hafenbuch;9;rot;und mehr\n"
    bad += "Kaputt;Alt;left 1 9;C4;;B4;;mf;Hafenbuch;9;\n"
    told = _mistakes(bad)
    assert told.index("line 5, column 12: the row has 12 cells") < told.index("line 6, column 3")
    made = _import(bad, skip_bad=True)
    assert (len(made.collection), len(made.skipped)) == (2, 2)


def test_a_collection_is_no_spreadsheet():
    with pytest.raises(ReedchordError, match=r"band\.yaml: this is no spreadsheet"):
        import_csv(b"reedchord: collection\nversion: 1\n", "band.yaml")


def test_a_workbook_is_not_read_as_text(tmp_path):
    with zipfile.ZipFile(tmp_path / "book.xlsx", "w") as book:
        book.writestr("xl/workbook.xml", "<workbook/>")
    with pytest.raises(ReedchordError, match="this is a workbook") as caught:
        import_csv((tmp_path / "book.xlsx").read_bytes(), "book.xlsx")
    assert "Save its sheet as CSV" in caught.value.hint


def test_what_is_no_text_is_told():
    """A WAV file (RIFF, its sizes are 32-bit numbers) under the name of a spreadsheet."""
    wave = b"RIFF\x24\x00\x00\x00WAVEfmt \x10\x00\x00\x00" + b'\x01\x22,"\xff' * 40
    with pytest.raises(ReedchordError, match=r"take\.csv: this is no text"):
        import_csv(wave, "take.csv")


def test_a_source_is_needed_unless_it_is_invented_or_ones_own():
    head = "name,saxophone,fingering,tone 1,evidence,set-up\n"
    row = "A,alto,left 1,C4,{}\n"
    for known in ("invented,", "tried,mine"):
        assert len(_import(head + row.format(known)).collection) == 1
    told = _mistakes(head + row.format("documented,"))
    assert "line 2, column 5, record a, field evidence: a documented sonority names its" in told
    told = _mistakes(head + row.format(","))
    assert "the field 'evidence' is missing" in told
    assert len(_import(head + row.format(","), settings={"source": "Log"}).collection) == 1


def test_what_holds_for_all_rows():
    text = "name,fingering,tone 1,saxophone\nA,left 1,C4,\nB,left 1,C4,tenor\n"
    made = _import(text, settings={"saxophone": "alto", "source title": "Log", "page": "3"})
    assert [one.saxophone.name for one in made.collection] == ["alto", "tenor"]
    assert [str(one.source) for one in made.collection] == ["Log, n.d., p. 3"] * 2
    assert "'colour' is no field" in _mistakes(text, settings={"colour": "red"})


MAPPING = """\
reedchord: mapping
version: 1
columns:
  Chord: written
  Hand: fingering
  Notes: ignore
constants: {saxophone: alto, evidence: invented}
separator: " and "
"""


def test_a_mapping_names_columns():
    mapping = parse_mapping(MAPPING, "map.yaml")
    made = _import("Chord,Hand,Notes\nC4 and E5,left 1,old\n", mapping=mapping)
    assert _written(made, "alto-2") == ["C4", "E5"]
    told = _mistakes("Chord,Notes\nC4,old\n", mapping=mapping)
    assert "there is no column 'Hand', which the mapping names" in told


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (MAPPING.replace("written", "writen"), "map.yaml, line 4, column 3: 'writen' is no field"),
        (MAPPING.replace("alto, ", "alto, hue: 3, "), "line 7, column 30: 'hue' is no field"),
        (MAPPING.replace("mapping", "plan"), "this is not a mapping"),
        (MAPPING.replace("separator", "seperator"), "Did you mean separator?"),
    ],
)
def test_mistakes_in_a_mapping(text, words):
    with pytest.raises(ReedchordError) as caught:
        parse_mapping(text, "map.yaml")
    assert words in str(caught.value)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "there is nothing in it"),
        ("only\nthis\n", "its first row has only one cell"),
        (
            "name,saxophone\nA,alto\n",
            "no column holds: fingering, written or concert pitches, evidence or source",
        ),
        (
            "name,saxophone\nA,alto\n",
            "Headings known: fingering, written, concert, tone 1 written, evidence, source, …",
        ),
        (
            "sax,keys,tone\nalto,left 1,C4\nalto,left 2,C5\n",
            "line 1: no column holds: evidence or source\n  Name the columns in a mapping, or say",
        ),
        (
            "sax,keys,tone 1,Ton 1\nalto,left 1,C4,C4\n",
            "column 4: 'Ton 1' and 'tone 1' (column 3) both hold tone 1 written",
        ),
        ("sax,keys,tone 1\nalto,left 1,C4,E5\n", "line 2, column 4: the row has 4 cells"),
        ('sax,keys,tone 1\nalto,left 1,"C4\n', "line 2: the table breaks off here"),
        (
            "id,sax,keys,tone,evidence\na,alto,left 1,C4,invented\na,alto,left 1,D4,invented\n",
            "line 3, column 1: the id 'a' stands on line 2 already",
        ),
        (
            "sax,keys,tone,source id,source title\nalto,left 1,C4,log,A\nalto,left 1,D4,log,B\n",
            "line 3, column 5: the source 'log' has another title here than on line 2",
        ),
        (
            "sax,keys,tone,source id\nalto,left 1,C4,log\n",
            "line 2, column 4: the source 'log' is named, but no row says what it is",
        ),
        (
            "sax,keys,tone 1,tone 1 presence,evidence\nalto,left 1,C4,loud and clear,tried\n",
            "line 2, column 4: 'loud and' is no dynamic mark",
        ),
        (
            "sax,keys,tone 1,cents 2,evidence\nalto,left 1,C4,12,invented\n",
            "line 2, column 4, record alto-2, field tones[2]: the tone has neither",
        ),
        (
            "sax,keys,tone,evidence\nalto,left 1,D5 C4,invented\n",
            "line 2, column 3, record alto-2, field tones: the tones do not stand lowest first",
        ),
    ],
)
def test_tables_that_cannot_be_read(text, words):
    assert words in _mistakes(text)


@pytest.mark.parametrize(
    ("heading", "column"),
    [
        ("Griffe", Column("fingering")),
        ("Doigté", Column("fingering")),
        ("Saxophon", Column("saxophone")),
        ("1. Ton", Column("written", 1)),
        ("Ton 3 klingend", Column("concert", 3)),
        ("2nd note", Column("written", 2)),
        ("tone_2_presence", Column("presence", 2)),
        ("Note réelle 1", Column("concert", 1)),
        ("Notes écrites", Column("written")),
        ("Concert pitches", Column("concert")),
        ("Concert notes", Column("concert")),
        ("Sounding tones", Column("concert")),
        ("Written tones", Column("written")),
        ("Klingende Töne", Column("concert")),
        ("Töne klingend", Column("concert")),
        ("Notierte Töne", Column("written")),
        ("Notes", None),  # notes of music, or remarks
        ("Cents", Column("cents")),
        ("Écart 2", Column("cents", 2)),
        ("Nuances", Column("dynamics")),
        ("Lautstärke", Column("dynamics")),
        ("Auteur", Column("source author")),
        ("source container-title", Column("source container-title")),
        ("Hauptton", Column("emphasised")),
        ("Set-up", Column("set_up")),
        ("Seite", Column("page")),
        ("Nr.", Column("number")),
        ("Colour", None),
        ("Tone 1 of 2", None),
        ("Page 2", None),
        ("", None),
    ],
)
def test_headings_as_people_write_them(heading, column):
    assert column_of(heading) == column

import codecs
import json

import pytest

from reedchord.errors import InputError
from reedchord.musicxml import score_text
from reedchord.musicxml.container import open_score
from reedchord.musicxml.score_text import ScoreText, line_and_column, read_score_text
from truth.real_scores import NAMED, score_paths

TITLE = "Étude nº 1"


def named_score(name: str) -> ScoreText:
    return read_score_text(open_score(NAMED[name].read_bytes()).data)


def document(encoding: str | None, newline: str = "\n") -> str:
    declared = f' encoding="{encoding}"' if encoding else ""
    lines = (f'<?xml version="1.0"{declared}?>', f"<score-partwise>{TITLE}</score-partwise>", "")
    return newline.join(lines)


@pytest.mark.parametrize(
    ("declared", "codec", "bom"),
    [
        (None, "utf-8", b""),
        ("UTF-8", "utf-8", b""),
        ("utf-8", "utf-8", codecs.BOM_UTF8),
        ("UTF-16", "utf-16-le", codecs.BOM_UTF16_LE),
        ("UTF-16", "utf-16-be", codecs.BOM_UTF16_BE),
        (None, "utf-16-be", codecs.BOM_UTF16_BE),
        ("UTF-16", "utf-16-le", b""),
        ("UTF-16BE", "utf-16-be", b""),
        ("UTF-32", "utf-32-le", codecs.BOM_UTF32_LE),
        ("ISO-8859-1", "iso8859-1", b""),
        ("windows-1252", "cp1252", b""),
        ("macintosh", "mac-roman", b""),
    ],
)
def test_encoding_and_mark_are_found_and_given_back(declared, codec, bom):
    text = document(declared)
    data = bom + text.encode(codec)
    score = read_score_text(data)
    assert score == ScoreText(text, codec, bom)
    assert score.encode() == data
    assert score.with_text(text.replace("1</", "2</")).encode() == data.replace(
        "1</".encode(codec), "2</".encode(codec)
    )


def test_every_real_score_is_given_back_byte_for_byte():
    encodings = set()
    for path in score_paths():
        data = open_score(path.read_bytes()).data
        score = read_score_text(data)
        assert score.encode() == data, path.name
        encodings.add(score.encoding)
    assert encodings == {"utf-8", "utf-16-le", "iso8859-1"}


@pytest.mark.parametrize(
    ("name", "encoding", "newline"),
    [
        ("utf16 quartet", "utf-16-le", "\r\n"),
        ("utf16 plain", "utf-16-le", "\n"),
        ("cr piano", "utf-8", "\r"),
        ("crlf melody", "utf-8", "\r\n"),
        ("crlf gloria", "utf-8", "\r\n"),
        ("mxl with junk", "utf-8", "\n"),
        ("latin1 rests", "iso8859-1", "\n"),
    ],
)
def test_what_real_scores_use(name, encoding, newline):
    score = named_score(name)
    assert (score.encoding, score.newline) == (encoding, newline)


def test_a_score_of_one_line_takes_line_feeds():
    assert read_score_text(b"<score-partwise/>").newline == "\n"


def test_characters_that_latin_1_lacks_become_references():
    score = named_score("latin1 rests")
    assert score.encodable("Fa♯ é 𝄪") == "Fa&#9839; é &#119082;"
    assert score.with_text(score.encodable("♯")).encode() == b"&#9839;"


@pytest.mark.parametrize(
    ("newline", "fitted"),
    [("\n", "a\nb\r\nc"), ("\r\n", "a\r\nb\r\nc"), ("\r", "a\rb\r\nc"), ("", "a\nb\r\nc")],
)
def test_new_lines_end_as_the_document_s_do(newline, fitted):
    data = document("UTF-8", newline or "\n").encode()
    score = read_score_text(data if newline else data.replace(b"\n", b"\r\n", 1))
    assert score.encodable("a\nb\r\nc") == fitted


def test_unicode_needs_no_references():
    score = named_score("utf16 quartet")
    assert score.encodable("Fa♯ é 𝄪") == "Fa♯ é 𝄪"


@pytest.mark.parametrize(
    ("offset", "place"),
    [(0, (1, 1)), (2, (2, 1)), (3, (2, 2)), (5, (3, 1)), (7, (4, 1)), (8, (5, 1)), (9, (5, 2))],
)
def test_lines_are_counted_for_all_line_ends(offset, place):
    text = "a\nb\r\nc\r\rde"  # one of each: LF, CRLF, CR, CR
    assert line_and_column(text, offset) == place


@pytest.mark.parametrize("data", [b"", b" \n", codecs.BOM_UTF8, codecs.BOM_UTF16_LE + b"\n\0"])
def test_nothing_at_all(data):
    with pytest.raises(InputError, match="empty") as caught:
        read_score_text(data)
    assert caught.value.code == "xml.empty"


@pytest.mark.parametrize(
    ("data", "looks"),
    [
        (b"%PDF-1.7\n", "a PDF"),
        (b"MThd\0\0\0\6", "a MIDI file"),
        (json.dumps({"notes": []}).encode(), "JSON"),
        (b"Alto saxophone, bar 3\n", "plain text"),
        ("Sécheresse".encode("utf-16"), "plain text"),
        (b"PK\x03\x04", "a zip package"),
        (b"\x00\x01\x02\x03", "binary data"),
    ],
)
def test_other_formats_are_named(data, looks):
    with pytest.raises(InputError, match=f"looks like {looks}") as caught:
        read_score_text(data)
    assert caught.value.code == "score.not-xml"


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (document("klingon").encode(), "'klingon', which is unknown"),
        (document("punycode").encode(), "'punycode', which is unknown"),
        (document("UTF-16").encode(), "says utf-16, but the bytes are one byte"),
        (codecs.BOM_UTF16_LE + document("UTF-8").encode("utf-16-le"), "says utf-8, but .* utf-16"),
        (codecs.BOM_UTF8 + document("ISO-8859-1").encode(), "says iso8859-1, but .* utf-8"),
    ],
)
def test_a_wrong_declaration_is_told(data, says):
    with pytest.raises(InputError, match=says) as caught:
        read_score_text(data)
    assert caught.value.code == "xml.encoding"


def test_an_undecodable_byte_is_told_with_its_place():
    with pytest.raises(InputError, match="byte 55 ") as caught:
        read_score_text(document("UTF-8", "\r").encode("latin-1"))
    assert caught.value.code == "xml.encoding"
    assert str(caught.value.where) == "line 2, column 17"


def test_half_a_character_at_the_end_is_told():
    with pytest.raises(InputError, match="truncated data"):
        read_score_text(document("UTF-16").encode("utf-16")[:-1])


def test_an_encoding_that_does_not_come_back_is_refused():
    ascii_twice = document("ISO-2022-JP").replace(TITLE, "\x1b(J\x1b(B").encode()
    with pytest.raises(InputError, match="does not give back the same bytes"):
        read_score_text(ascii_twice)


def test_size_is_limited(monkeypatch):
    monkeypatch.setattr(score_text, "MAX_SCORE_BYTES", 100)
    with pytest.raises(InputError, match="limit of 100") as caught:
        read_score_text(document("UTF-8").encode().ljust(101))
    assert caught.value.code == "xml.size"

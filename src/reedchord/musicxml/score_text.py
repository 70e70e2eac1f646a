"""Bytes to text and back without loss: encoding, byte order mark and line ends are kept."""

from __future__ import annotations

import codecs
import re
from dataclasses import dataclass, replace
from functools import cached_property

from reedchord.errors import InputError, Where

MAX_SCORE_BYTES = 256 * 2**20

_BYTE_ORDER_MARKS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF32_LE, "utf-32-le"),  # before UTF-16, whose mark it begins with
    (codecs.BOM_UTF32_BE, "utf-32-be"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)
_FIRST_BYTES = ((b"<\0", "utf-16-le"), (b"\0<", "utf-16-be"))
_HEAD_BYTES = 1024
_DECLARED_ENCODING = re.compile(r"""\s*<\?xml\s[^>]*?\sencoding\s*=\s*["']([^"'<>]*)["']""")
_UNICODE = ("utf-8", *(f"utf-{width}{order}" for width in (16, 32) for order in ("", "-be", "-le")))
_OLDER_CHARACTER_SETS = (
    r"ascii|(?:iso8859|koi8|mac|tis|hp)-\w+|cp\d+"
    r"|(?:iso2022|euc|shift)_\w+|gb\w+|big5\w*|johab|hz|ptcp154|kz1048"
)
"""Python's text codecs that are character sets; the others are no encoding of XML."""

_LOOKS_LIKE = (
    (b"%PDF", "a PDF"),
    (b"PK\x03\x04", "a zip package"),
    (b"\x1f\x8b", "gzip data"),
    (b"MThd", "a MIDI file"),
    (b"\x89PNG", "a PNG picture"),
    (b"\xff\xd8\xff", "a JPEG picture"),
    (b"RIFF", "a sound file"),
    (b"{", "JSON"),
    (b"[", "JSON"),
)
_ONE_TO_ONE = frozenset({"ascii", "iso8859-1", "utf-8", "utf-16-be", "utf-16-le"})
"""Encodings in which no two rows of bytes that Python decodes are the same text."""
_LINE_END_SAMPLE = 100_000
"""Characters in which the line ends of a document show."""
_LINE_END = re.compile(r"\r\n?|\n")
_LINE_FEED = re.compile(r"(?<!\r)\n")


@dataclass(frozen=True)
class ScoreText:
    """A document as text without its byte order mark, and how it goes back to bytes.

    `encoding` is the name of a Python codec that writes no mark of its own.
    """

    text: str
    encoding: str
    bom: bytes

    def encode(self) -> bytes:
        """Return the bytes; raises UnicodeEncodeError on a character the encoding lacks."""
        return self.bom + self.text.encode(self.encoding)

    def with_text(self, text: str) -> ScoreText:
        """Return another text in the same encoding."""
        return replace(self, text=text)

    def encodable(self, fragment: str) -> str:
        """Return `fragment` with `&#N;` for characters that the encoding lacks.

        Meant for character data and attribute values; names and comments know no references.
        Line feeds become the document's own line ends, where it has no others.
        """
        if "\n" in fragment and not self._has_line_feeds:
            fragment = _LINE_FEED.sub(self.newline, fragment)
        if self.encoding.startswith("utf-"):
            return fragment
        return fragment.encode(self.encoding, "xmlcharrefreplace").decode(self.encoding)

    @cached_property
    def _has_line_feeds(self) -> bool:
        """Whether a line may end in a line feed alone."""
        sample = self.text[:_LINE_END_SAMPLE]
        return self.newline == "\n" or sample.count("\n") > sample.count("\r\n")

    @property
    def newline(self) -> str:
        """The line end that the document uses first; a line feed when it has one line only."""
        match = _LINE_END.search(self.text)
        return match[0] if match else "\n"


def read_score_text(data: bytes) -> ScoreText:
    """Decode a document by its byte order mark, its XML declaration or its first bytes.

    Raises InputError `xml.empty`, `xml.size`, `score.not-xml`, and `xml.encoding` when the
    encoding is unknown, contradicts the bytes, or does not give back the same bytes.
    """
    if len(data) > MAX_SCORE_BYTES:
        raise InputError(
            "xml.size",
            f"the document has {len(data):,} bytes, more than the limit of {MAX_SCORE_BYTES:,}",
        )
    bom, found = _found_encoding(data)
    head = data[len(bom) : len(bom) + _HEAD_BYTES].decode(found or "latin-1", "ignore")
    _refuse_other_formats(data, head)
    encoding = _agreed_encoding(found, _declared_encoding(head))
    score = ScoreText(_decoded(data, encoding, bom), encoding, bom)
    if not score.text or score.text.isspace():
        raise InputError("xml.empty", "the file is empty")
    if encoding not in _ONE_TO_ONE and not _gives_back(score, data):
        raise InputError(
            "xml.encoding",
            f"the encoding {encoding} does not give back the same bytes after reading",
            hint="Save the score as UTF-8.",
        )
    return score


def _gives_back(score: ScoreText, data: bytes) -> bool:
    encoded = score.text.encode(score.encoding)
    return len(score.bom) + len(encoded) == len(data) and data.endswith(encoded)


def line_and_column(text: str, offset: int) -> tuple[int, int]:
    """Return the line and the column of a character, both from 1, for every kind of line end."""
    carriage_returns = text.count("\r", 0, offset) - text.count("\r\n", 0, offset)
    line = text.count("\n", 0, offset) + carriage_returns + 1
    line_start = max(text.rfind("\n", 0, offset), text.rfind("\r", 0, offset)) + 1
    return line, offset - line_start + 1


def _found_encoding(data: bytes) -> tuple[bytes, str | None]:
    """Return the byte order mark and what the first bytes alone say about the encoding."""
    for bom, encoding in _BYTE_ORDER_MARKS:
        if data.startswith(bom):
            return bom, encoding
    for first, encoding in _FIRST_BYTES:
        if data.startswith(first):
            return b"", encoding
    return b"", None


def _refuse_other_formats(data: bytes, head: str) -> None:
    beginning = head.lstrip()
    if not beginning or beginning.startswith("<"):
        return
    looks = next((name for first, name in _LOOKS_LIKE if data.lstrip().startswith(first)), None)
    if looks is None:
        line = beginning.splitlines()[0].replace("\t", " ")
        looks = "plain text" if line.isprintable() else "binary data"
    raise InputError(
        "score.not-xml",
        f"this is no MusicXML: it does not begin with '<' and looks like {looks}",
        hint="Export the score as MusicXML (.musicxml, .xml or .mxl); `reedchord place --convert` "
        "reads MEI, ABC, Humdrum and MIDI.",
    )


def _declared_encoding(head: str) -> str | None:
    match = _DECLARED_ENCODING.match(head)
    if match is None:
        return None
    try:
        name = codecs.lookup(match[1]).name
    except (LookupError, ValueError):
        name = ""
    if name not in _UNICODE and not re.fullmatch(_OLDER_CHARACTER_SETS, name):
        raise InputError(
            "xml.encoding",
            f"the XML declaration names the encoding {match[1]!r}, which is unknown",
            hint='Save the score as UTF-8, with encoding="UTF-8" in its first line.',
        )
    return name


def _agreed_encoding(found: str | None, declared: str | None) -> str:
    if found is None and declared is None:
        return "utf-8"
    if found is None and declared is not None and not declared.startswith(("utf-16", "utf-32")):
        return declared
    if found is not None and (declared is None or found.startswith(declared)):
        return found
    raise InputError(
        "xml.encoding",
        f"the XML declaration says {declared}, but the bytes are "
        f"{found or 'one byte for each ASCII character'}",
        hint="Correct the declaration, or save the score again as UTF-8.",
    )


def _decoded(data: bytes, encoding: str, bom: bytes) -> str:
    try:
        return str(memoryview(data)[len(bom) :], encoding)  # a view: no second copy
    except UnicodeDecodeError as error:
        good = data[len(bom) : len(bom) + error.start].decode(encoding, "ignore")
        line, column = line_and_column(good, len(good))
        raise InputError(
            "xml.encoding",
            f"byte {len(bom) + error.start} (from 0) is no {encoding} text: {error.reason}",
            hint="The file says one encoding and uses another, or it is damaged.",
            where=Where(line=line, column=column),
        ) from error

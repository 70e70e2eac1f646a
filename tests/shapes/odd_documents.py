"""Sound scores in every dress: encodings, line ends, prologues, versions, ways to write tags."""

from __future__ import annotations

import codecs
import re
from dataclasses import dataclass, field

from samples import BAR_REST, note, score


@dataclass(frozen=True)
class Odd:
    """A score that is sound but seldom, and the address of a place in its part P1."""

    name: str
    data: bytes
    bar: str = "2"
    beat: str = "1"
    more: dict[str, str] = field(default_factory=dict)
    """Other fields of the placement."""


BARS = (note("C5") + note() * 3, note() + note("D5", 3, type_=None), BAR_REST.format(4))
PLAIN = score(*BARS).decode("ascii").replace("<part-list>", "<!-- Übung für Ä. --><part-list>")


def encoded(codec: str, declared: str | None = None, bom: bytes = b"") -> bytes:
    """Return the plain score in another encoding, declared or not."""
    told = f' encoding="{declared}"' if declared else ""
    text = PLAIN.replace(' encoding="UTF-8"', told)
    return bom + text.encode(codec)


ENCODINGS = (
    Odd("UTF-8 undeclared", encoded("utf-8")),
    Odd("UTF-8 with a mark", encoded("utf-8", "UTF-8", codecs.BOM_UTF8)),
    Odd("UTF-8 with a mark, undeclared", encoded("utf-8", None, codecs.BOM_UTF8)),
    Odd("UTF-16 little end first", encoded("utf-16-le", "UTF-16", codecs.BOM_UTF16_LE)),
    Odd("UTF-16 big end first", encoded("utf-16-be", "UTF-16", codecs.BOM_UTF16_BE)),
    Odd("UTF-16 undeclared", encoded("utf-16-be", None, codecs.BOM_UTF16_BE)),
    Odd("UTF-16 without a mark", encoded("utf-16-le", "UTF-16LE")),
    Odd("UTF-32", encoded("utf-32-le", "UTF-32", codecs.BOM_UTF32_LE)),
    Odd("Latin-1", encoded("latin-1", "ISO-8859-1")),
    Odd("Windows-1252", encoded("cp1252", "windows-1252")),
    Odd("Mac Roman", encoded("mac-roman", "macintosh")),
    Odd(
        "ASCII with references",
        PLAIN.replace("UTF-8", "US-ASCII")
        .replace("Übung für Ä.", "")
        .encode("ascii")
        .replace(b"Alto Saxophone", b"&#65;lto Saxophone &#233;"),
    ),
)

LINE_ENDS = (
    Odd("CRLF", PLAIN.replace("\n", "\r\n").encode()),
    Odd("CR", PLAIN.replace("\n", "\r").encode()),
    Odd(
        "mixed line ends", PLAIN.replace("\n", "\r\n", 3).replace("\n</part>", "\r</part>").encode()
    ),
    Odd("one line", PLAIN.replace("\n", "").encode()),
    Odd("no line end at the end", PLAIN.rstrip("\n").encode()),
    Odd("empty lines and tabs", PLAIN.replace("><", ">\n\n\t<").encode()),
)

DOCTYPE = (
    '<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN"\n'
    '  "http://localhost:9/no-such.dtd"{}>\n<score-partwise'
)


def prologue(more: str) -> bytes:
    """Return the plain score with something before its root."""
    return PLAIN.replace("<score-partwise", more + "<score-partwise", 1).encode()


PROLOGUES = (
    Odd("a DTD on the network", PLAIN.replace("<score-partwise", DOCTYPE.format(""), 1).encode()),
    Odd(
        "an internal subset",
        PLAIN.replace(
            "<score-partwise", DOCTYPE.format(" [<!ATTLIST note mark CDATA 'a > b'>]"), 1
        ).encode(),
    ),
    Odd("stand-alone", PLAIN.replace('"UTF-8"?', '"UTF-8" standalone="yes"?').encode()),
    Odd(
        "a declaration in single quotes",
        PLAIN.replace('"1.0"', "'1.0'").replace('"UTF-8"', "'UTF-8'").encode(),
    ),
    Odd("no declaration", PLAIN[PLAIN.index("<score") :].encode()),
    Odd("instructions", prologue('<?xml-stylesheet href="x.css"?><?editor <measure number="1">?>')),
    Odd(
        "comments with tags",
        prologue('<!-- <part id="P1"><measure number="1"></measure></part> -->'),
    ),
    Odd("a comment after the end", (PLAIN + "<!-- </score-partwise> -->").encode()),
)

TAGS = (
    Odd("comments in a bar", PLAIN.replace("<rest/>", "<!-- </note><note> --><rest/>").encode()),
    Odd(
        "an instruction in a note",
        PLAIN.replace("<duration>", "<?editor </measure>?><duration>").encode(),
    ),
    Odd(
        "CDATA",
        PLAIN.replace(
            "<note>",
            "<direction><direction-type><words><![CDATA[</measure> & <note>]]></words>"
            "</direction-type></direction><note>",
        ).encode(),
    ),
    Odd("single quotes", PLAIN.replace('"', "'").encode()),
    Odd(
        "spaces in tags", re.sub(r"<(/?)(note|rest|measure)\b([^>/]*)", r"<\1\2\3 ", PLAIN).encode()
    ),
    Odd("attributes on lines of their own", PLAIN.replace("<measure ", "<measure\n  ").encode()),
    Odd("a > in an attribute", PLAIN.replace("<measure ", '<measure text="a > b" ').encode()),
    Odd("empty elements written out", PLAIN.replace("<rest/>", "<rest></rest>").encode()),
    Odd(
        "numbers with white space",
        re.sub(r"<(duration|voice)>(\d)<", r"<\1>\n \2 <", PLAIN).encode(),
    ),
    Odd("durations with a point", re.sub(r"<duration>(\d)<", r"<duration>\1.0<", PLAIN).encode()),
    Odd(
        "elements of nobody",
        PLAIN.replace("<note>", "<x:y xmlns:x='urn:x'>t</x:y><note>").encode(),
    ),
)

VERSIONS = tuple(
    Odd(f"version {version or 'untold'}", re.sub(r' version="4\.0"', told, PLAIN).encode())
    for version, told in (
        ("", ""),
        *(
            (number, f' version="{number}"')
            for number in ("1.0", "1.1", "2.0", "3.0", "3.1", "4.0")
        ),
    )
)
"""Ids on notes came with 3.1."""

PLAIN_TIMEWISE = re.sub(
    r'(?s)<part id="P1">(.*)</part>',
    lambda part: re.sub(
        r"(<measure[^>]*>)(.*?)</measure>", r'\1<part id="P1">\2</part></measure>', part[1]
    ),
    PLAIN,
).replace("score-partwise", "score-timewise")

TIMEWISE = (
    Odd("timewise", PLAIN_TIMEWISE.encode()),
    Odd(
        "timewise in UTF-16 with CR",
        PLAIN_TIMEWISE.replace("\n", "\r").replace("UTF-8", "UTF-16").encode("utf-16"),
    ),
)

DOCUMENTS = (*ENCODINGS, *LINE_ENDS, *PROLOGUES, *TAGS, *VERSIONS, *TIMEWISE)

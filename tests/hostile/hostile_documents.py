"""Documents that no program should have to read, each with the code of its refusal."""

from __future__ import annotations

import codecs
import gzip
import json
from dataclasses import dataclass

from samples import BAR_REST, RESTS, note, score


@dataclass(frozen=True)
class Hostile:
    """A file, the code of its refusal, and words that the message holds: what and where."""

    name: str
    data: bytes
    code: str
    says: tuple[str, ...] = ()
    suffix: str = ".musicxml"


TEXT = RESTS.decode("ascii")
LAUGHS = "".join(f'<!ENTITY l{n} "{f"&l{n - 1};" * 10 if n else "ha"}">' for n in range(12))


def with_subset(subset: str, reference: str = "") -> bytes:
    """Return a score with an internal DTD subset, and a reference in its part's name."""
    doctype = f"<!DOCTYPE score-partwise [{subset}]>\n<score-partwise"
    return (
        TEXT.replace("<score-partwise", doctype, 1)
        .replace("Alto Saxophone", f"Alto Saxophone{reference}")
        .encode("ascii")
    )


def with_name(name: str) -> bytes:
    """Return a score whose part has another name."""
    return TEXT.replace("Alto Saxophone", name).encode("utf-8", "surrogatepass")


ENTITIES = (
    Hostile("entity", with_subset('<!ENTITY a "b">', "&a;"), "xml.entity", ("line 2",)),
    Hostile("billion laughs", with_subset(LAUGHS, "&l11;"), "xml.entity", ("line 2",)),
    Hostile(
        "one long entity many times",
        with_subset(f'<!ENTITY a "{"ha" * 50_000}">', "&a;" * 10_000),
        "xml.entity",
        ("declares an entity",),
    ),
    Hostile(
        "entity from the disk",
        with_subset('<!ENTITY a SYSTEM "file:///etc/hostname">', "&a;"),
        "xml.entity",
        ("line 2",),
    ),
    Hostile(
        "entity from the network",
        with_subset('<!ENTITY a SYSTEM "http://localhost:9/a">', "&a;"),
        "xml.entity",
        ("line 2",),
    ),
    Hostile(
        "parameter entity from the network",
        with_subset('<!ENTITY % a SYSTEM "http://localhost:9/a.dtd"> %a;'),
        "xml.entity",
        ("line 2",),
    ),
    Hostile(
        "entity that calls itself",
        with_subset('<!ENTITY a "&b;"><!ENTITY b "&a;">', "&a;"),
        "xml.entity",
    ),
    Hostile("entity of nobody", with_name("&nbsp;"), "xml.entity", ("&nbsp;", "line 2")),
    Hostile(
        "entity in an attribute",
        TEXT.replace('number="2"', 'number="&two;"').encode("ascii"),
        "xml.entity",
        ("&two;", "line 5"),
    ),
    Hostile(
        "conditional section",
        with_subset('<![INCLUDE[<!ATTLIST note x CDATA "1">]]>'),
        "xml.malformed",
        ("line 2",),
    ),
)

SIZES = (
    Hostile(
        "ten thousand levels",
        with_name("<x>" * 10_000 + "</x>" * 10_000),
        "xml.depth",
        ("line 2",),
    ),
    Hostile("one text of 11 MB", with_name("x" * 11_000_000), "xml.size", ("line 2",)),
    Hostile(
        "one attribute of 11 MB",
        TEXT.replace('number="2"', f'number="{"2" * 11_000_000}"').encode("ascii"),
        "xml.size",
    ),
    Hostile(
        "ten thousand attributes of one name",
        TEXT.replace('number="2"', 'number="2" ' * 10_000).encode("ascii"),
        "xml.malformed",
        ("same attribute twice", "line 5"),
    ),
    Hostile("a bar of 40,000 rests", score(note() * 40_000), "score.size", ("bar 1", "P1")),
    Hostile(
        "an endless rest",
        score(BAR_REST.format("9" * 29)),
        "rhythm.rest",
        ("bar 1", "P1", "no note value"),
    ),
    Hostile(
        "divisions without common measure",
        score(
            "".join(
                f"<attributes><divisions>{10**29 + 2 * odd + 1}</divisions></attributes>{note()}"
                for odd in range(2_000)
            )
        ),
        "score.time",
        ("bar 1", "P1"),
    ),
    Hostile(
        "a voice with a name like a novel",
        TEXT.replace("<voice>1<", f"<voice>{'Ishmael ' * 500}<", 1).encode("ascii"),
        "score.name",
        ("bar 1", "P1"),
    ),
)

OTHER_FORMATS = (
    Hostile("empty", b"", "xml.empty"),
    Hostile("white space", b" \r\n\t ", "xml.empty"),
    Hostile("a byte order mark alone", codecs.BOM_UTF8, "xml.empty"),
    Hostile("zeros", bytes(100_000), "score.not-xml", ("binary data",)),
    Hostile("a PDF", b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n1 0 obj", "score.not-xml", ("PDF",), ".xml"),
    Hostile("a MIDI file", b"MThd\0\0\0\6\0\1", "score.other-format", ("MIDI",), ".xml"),
    Hostile("gzip data", gzip.compress(RESTS, mtime=0), "score.not-xml", ("gzip",), ".mxl"),
    Hostile("JSON", json.dumps({"measures": []}).encode(), "score.not-xml", ("JSON",)),
    Hostile("plain text", b"Bar 1: all rest.\n", "score.not-xml", ("plain text",)),
    Hostile("an HTML page", b"<html><body/></html>", "score.not-musicxml", ("<html>",)),
    Hostile(
        "an HTML page with tags left open",
        b"<!DOCTYPE html>\n<html><br><p>Page not found</html>",
        "xml.malformed",
        ("line 2",),
    ),
    Hostile(
        "a drawing",
        b'<svg xmlns="http://www.w3.org/2000/svg"/>',
        "score.not-musicxml",
        ("<svg>",),
    ),
    Hostile("a list of scores", b"<opus/>", "score.not-musicxml", ("list of scores",)),
    Hostile(
        "a namespace",
        RESTS.replace(b"<score-partwise", b'<score-partwise xmlns="urn:x"'),
        "score.not-musicxml",
        ("urn:x",),
    ),
)

ENCODINGS = (
    Hostile("UTF-7", RESTS.replace(b"UTF-8", b"UTF-7"), "xml.encoding", ("UTF-7",)),
    Hostile("EBCDIC", TEXT.encode("cp037"), "score.not-xml", ("binary data",)),
    Hostile("an encoding of nobody", RESTS.replace(b"UTF-8", b"X-9"), "xml.encoding", ("X-9",)),
    Hostile("a compression", RESTS.replace(b"UTF-8", b"zlib"), "xml.encoding", ("zlib",)),
    Hostile(
        "UTF-16 declared, UTF-8 written",
        RESTS.replace(b"UTF-8", b"UTF-16"),
        "xml.encoding",
        ("one byte for each",),
    ),
    Hostile(
        "UTF-8 declared, UTF-16 written", TEXT.encode("utf-16"), "xml.encoding", ("says utf-8",)
    ),
    Hostile(
        "Latin-1 declared, a mark of UTF-8",
        codecs.BOM_UTF8 + RESTS.replace(b"UTF-8", b"ISO-8859-1"),
        "xml.encoding",
        ("says iso8859-1",),
    ),
    Hostile(
        "Latin-1 undeclared",
        TEXT.replace("Alto", "Ält").encode("latin-1"),
        "xml.encoding",
        ("line 2",),
    ),
    Hostile("a surrogate in UTF-8", with_name("\ud800"), "xml.encoding", ("line 2",)),
    Hostile(
        "an overlong character", RESTS.replace(b"Alto", b"\xc0\xaf"), "xml.encoding", ("line 2",)
    ),
    Hostile(
        "half a character at the end",
        TEXT.replace("UTF-8", "UTF-16").encode("utf-16")[:-1],
        "xml.encoding",
        ("truncated",),
    ),
    Hostile("a NUL", with_name("A\0B"), "xml.malformed", ("line 2",)),
    Hostile("a bell", with_name("A\aB"), "xml.malformed", ("line 2",)),
    Hostile("a reference to NUL", with_name("&#0;"), "xml.malformed", ("line 2",)),
    Hostile("a reference to a surrogate", with_name("&#xD800;"), "xml.malformed", ("line 2",)),
)

MALFORMED = (
    Hostile("broken off in a tag", RESTS[:700], "xml.malformed", ("still open", "line 5")),
    Hostile(
        "an instruction before the declaration",
        b"<?editor x?>" + RESTS,
        "xml.malformed",
        ("line 1",),
    ),
    Hostile("two roots", RESTS + RESTS[RESTS.index(b"<score") :], "xml.malformed", ("line 9",)),
    Hostile("crossed tags", RESTS.replace(b"</note>", b"</rest>", 1), "xml.malformed", ("line 4",)),
    Hostile("a prefix of nobody", with_name("<m:x/>"), "xml.malformed", ("line 2",)),
    Hostile("an open comment", RESTS + b"<!-- and then", "xml.malformed", ("not finished",)),
    Hostile(
        "a name that not every reader takes",
        TEXT.replace("<voice>1</voice>", "<voice>1</voice><٣/>", 1).encode("utf-8"),
        "xml.name",
        ("bar 1", "line 4"),
    ),
)

"""Text to tree without trust: no entities, no DTD, no network, and faults with their place."""

from __future__ import annotations

import re
from xml.parsers import expat

from lxml import etree

from reedchord.errors import InputError, Where
from reedchord.musicxml.score_text import ScoreText, line_and_column

SCORE_ROOTS = ("score-partwise", "score-timewise")

_OTHER_ROOTS = {
    "opus": "this is an opus, a list of scores; open one of the scores that it names",
    "container": "this is the table of contents of an .mxl package; open the package itself",
}
_PROLOG_TOKEN = re.compile(
    r"""<!--.*?(?:-->|\Z)|<\?.*?(?:\?>|\Z)|"[^"]*"|'[^']*'|<!ENTITY|<(?![!?])""", re.DOTALL
)
_OWN_REFERENCE = re.compile(r"&(?!#|(?:amp|lt|gt|quot|apos);)([^;\s<&]*)")
_UNDEFINED_ENTITY = expat.errors.codes[expat.errors.XML_ERROR_UNDEFINED_ENTITY]

_PLAIN_WORDS = {
    "not well-formed (invalid token)": "a character stands where XML does not allow it",
    "unclosed token": "a tag or a comment is not finished",
    "unclosed CDATA section": "a CDATA section is not finished",
    "mismatched tag": "an end tag does not match its start tag",
    "duplicate attribute": "a tag has the same attribute twice",
    "junk after document element": "something follows after the end of the document",
    "no element found": "the document ends too early",
    "unbound prefix": "a tag uses a prefix whose namespace is not declared",
    "XML or text declaration not at start of entity": (
        "something stands before the XML declaration, which must be the very first"
    ),
}
"""What expat says, for people."""


def parse(score: ScoreText, data: bytes | None = None) -> etree._Element:
    """Return the root of a MusicXML document.

    `data`, the bytes that the score was read from, spares encoding them again. Raises
    InputError `score.not-musicxml` and those of `parse_any`.
    """
    root = parse_any(score, data)
    name = etree.QName(root)
    if name.localname not in SCORE_ROOTS:
        raise InputError(
            "score.not-musicxml",
            _OTHER_ROOTS.get(
                name.localname, f"this is XML but no MusicXML: its root is <{name.localname}>"
            ),
            hint=f"The root of a score is <{SCORE_ROOTS[0]}> or <{SCORE_ROOTS[1]}>.",
        )
    if name.namespace:
        raise InputError(
            "score.not-musicxml",
            f"the elements of this score lie in the namespace {name.namespace!r}",
            hint="MusicXML elements have no namespace; remove xmlns from the root's tag.",
        )
    return root


def parse_any(score: ScoreText, data: bytes | None = None) -> etree._Element:
    """Return the root of any XML document.

    Raises InputError `xml.entity`, `xml.malformed`, `xml.depth` (more than libxml2 allows
    without its huge-tree option: 256 levels) and `xml.size` (its limit for one text).
    """
    root_start = _root_start(score.text)
    _refuse_own_references(score.text, root_start)
    is_utf8 = score.encoding == "utf-8" and not score.bom
    encoded = data if data is not None and is_utf8 else score.text.encode("utf-8")
    parser = etree.XMLParser(
        encoding="utf-8", resolve_entities=False, load_dtd=False, no_network=True
    )
    try:
        return etree.fromstring(encoded, parser)
    except etree.XMLSyntaxError as error:
        raise _fault(score.text, encoded, error) from error


def _root_start(text: str) -> int:
    """Return the offset of the first element; raises where the DTD before it has entities."""
    for token in _PROLOG_TOKEN.finditer(text):
        if token[0] == "<":
            return token.start()
        if token[0] == "<!ENTITY":
            raise _entity_fault("declares an entity", text, token.start())
    return len(text)


def _refuse_own_references(text: str, root_start: int) -> None:
    """Raise where the document uses an entity, which lxml may drop without a word."""
    if not _OWN_REFERENCE.search(text, root_start):
        return
    reader = expat.ParserCreate("utf-8")
    root = text[root_start:].encode("utf-8")
    try:
        reader.Parse(root, True)  # without its DTD, every entity is undefined
    except expat.ExpatError as error:
        if error.code != _UNDEFINED_ENTITY:
            return
        nearby = root_start + _character_offset(root, reader.ErrorByteIndex)
        reference = _OWN_REFERENCE.search(text, nearby)
        if reference is not None:
            what = f"uses the entity &{reference[1]};"
            raise _entity_fault(what, text, reference.start()) from error


def _entity_fault(what: str, text: str, offset: int) -> InputError:
    return InputError(
        "xml.entity",
        f"the document {what}; entities are not followed, for safety",
        hint="Write the characters themselves, or &#N; for them; MusicXML needs no entities.",
        where=_where(text, offset),
    )


def _fault(text: str, encoded: bytes, error: etree.XMLSyntaxError) -> InputError:
    """Return what is wrong and where; expat knows places better than lxml."""
    diagnosis = _diagnosis(text, encoded)
    if diagnosis is not None:
        return diagnosis
    message = str(error.msg)
    where = Where(line=error.lineno) if "\n" in text else Where()
    if "depth" in message:
        return InputError("xml.depth", "the elements are nested too deep", where=where)
    if "HUGE" in message:
        return InputError("xml.size", "one text or one tag is too long", where=where)
    return InputError("xml.malformed", f"this is no well-formed XML: {message}", where=where)


def _diagnosis(text: str, encoded: bytes) -> InputError | None:
    open_tags: list[str] = []
    reader = expat.ParserCreate("utf-8", " ")
    reader.StartElementHandler = lambda tag, _: open_tags.append(tag.rpartition(" ")[2])
    reader.EndElementHandler = lambda _: open_tags.pop()
    try:
        reader.Parse(encoded, True)
    except expat.ExpatError as error:
        reason = expat.errors.messages[error.code]
        still_open = f"; <{open_tags[-1]}> is still open" if open_tags else ""
        return InputError(
            "xml.malformed",
            f"this is no well-formed XML: {_PLAIN_WORDS.get(reason, reason)}{still_open}",
            hint="Export the score again, or mend this place with a text editor.",
            where=_where(text, _character_offset(encoded, reader.ErrorByteIndex)),
        )
    return None


def _character_offset(encoded: bytes, byte_offset: int) -> int:
    return len(encoded[:byte_offset].decode("utf-8", "ignore"))


def _where(text: str, offset: int) -> Where:
    line, column = line_and_column(text, offset)
    return Where(line=line, column=column)

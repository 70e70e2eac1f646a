"""What verovio, an engraver of MusicXML, really draws: noteheads, pages and its warnings."""

from __future__ import annotations

import os
import re
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

import verovio
from lxml import etree

from truth.score_text import as_text, root_file

_MESSAGE = re.compile(r"\[(?:Warning|Error)\] (.*)")
_MADE_UP_ID = re.compile(r"'[a-z][0-9a-z]{5,8}'")
_PARSER = etree.XMLParser(no_network=True, load_dtd=False, resolve_entities=False, huge_tree=True)


@dataclass(frozen=True)
class Engraving:
    """One score as drawn: SVG pages, noteheads of each system of each page, the log.

    The warnings are without the ids that verovio makes up, so that two runs compare.
    """

    pages: tuple[str, ...]
    noteheads: tuple[tuple[int, ...], ...]
    warnings: tuple[str, ...]

    @property
    def notehead_count(self) -> int:
        """Noteheads drawn in the whole score."""
        return sum(map(sum, self.noteheads))


def engraved(data: bytes, **options: object) -> Engraving:
    """Draw a MusicXML document or .mxl; `options` are verovio's own.

    Raises ValueError when the document is not well-formed or no bar is drawn, because verovio
    itself takes a broken, a timewise or an empty score for a blank page without a word.
    """
    # Text goes in, because verovio refuses UTF-16 and believes no declaration.
    text = as_text(root_file(data))
    try:
        etree.fromstring(text, _PARSER)
    except etree.XMLSyntaxError as error:
        raise ValueError(f"not well-formed: {error}") from None
    log: list[str] = []
    with _standard_error(log):
        toolkit = verovio.toolkit()
        toolkit.setOptions({"xmlIdSeed": 1, "header": "none", "footer": "none", **options})
        toolkit.setInputFrom("xml")  # left to guess, it takes a long prologue for MEI
        loaded = toolkit.loadData(text)
        count = toolkit.getPageCount() if loaded else 0
        pages = tuple(toolkit.renderToSVG(page) for page in range(1, count + 1))
    warnings = tuple(_MADE_UP_ID.sub("'…'", line) for line in _MESSAGE.findall("".join(log)))
    drawn = [etree.fromstring(page, _PARSER) for page in pages]
    if not any(_of_class(page, "measure") for page in drawn):
        raise ValueError(f"verovio draws no bar of this: {'; '.join(warnings) or 'no reason'}")
    return Engraving(pages, tuple(_noteheads(page) for page in drawn), warnings)


def _noteheads(page: etree._Element) -> tuple[int, ...]:
    """Return the noteheads of each system of a page, those without any glyph left out."""
    return tuple(
        sum(1 for head in _of_class(system, "notehead") if len(head))
        for system in _of_class(page, "system")
    )


def _of_class(root: etree._Element, name: str) -> list[etree._Element]:
    return [
        element
        for element in root.iter("{http://www.w3.org/2000/svg}g")
        if name in element.get("class", "").split()
    ]


@contextmanager
def _standard_error(log: list[str]) -> Iterator[None]:
    """Collect what C++ code writes to standard error: verovio has no other way in Python."""
    sys.stderr.flush()
    kept = os.dup(2)
    with tempfile.TemporaryFile() as file:
        os.dup2(file.fileno(), 2)
        try:
            yield
        finally:
            os.dup2(kept, 2)
            os.close(kept)
            file.seek(0)
            log.append(file.read().decode("utf-8", "replace"))

"""The sources of a collection as reference lists: BibTeX and CSL-JSON."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

from reedchord.exchange.collection_text import source_data
from reedchord.source import CslName, Source

_BIBTEX_TYPES = {
    "article-journal": "article",
    "article-magazine": "article",
    "book": "book",
    "chapter": "incollection",
    "pamphlet": "booklet",
    "paper-conference": "inproceedings",
    "report": "techreport",
    "thesis": "phdthesis",
    "manuscript": "unpublished",
}
"""Entry types of BibTeX for CSL types; all others are `misc`."""

_CONTAINER_FIELDS = {
    "article": "journal",
    "incollection": "booktitle",
    "inproceedings": "booktitle",
}
_PUBLISHER_FIELDS = {"phdthesis": "school", "techreport": "institution"}
_FIELDS = (
    ("title", "title"),
    ("publisher-place", "address"),
    ("edition", "edition"),
    ("volume", "volume"),
    ("issue", "number"),
    ("page", "pages"),
    ("archive", "howpublished"),
    ("DOI", "doi"),
    ("URL", "url"),
    ("note", "note"),
)
_ESCAPES = {
    "\\": r"\textbackslash{}",
    # A backslash does not keep BibTeX from counting braces.
    "{": r"\textbraceleft{}",
    "}": r"\textbraceright{}",
    "%": r"\%",
    "&": r"\&",
    "#": r"\#",
    "$": r"\$",
    "_": r"\_",
    "~": r"\textasciitilde{}",
    "^": r"\textasciicircum{}",
}


def csl_json(sources: Iterable[Source]) -> str:
    """Return sources as CSL-JSON: a list of items by their CSL names."""
    return json.dumps([source_data(one) for one in sources], ensure_ascii=False, indent=2) + "\n"


def bibtex(sources: Iterable[Source]) -> str:
    """Return sources as BibTeX entries; keys stay the ids, since records cite by them."""
    return "\n".join(map(_entry, sources))


def _entry(source: Source) -> str:
    kind = _BIBTEX_TYPES.get(source.type, "misc")
    lines = [f"  {name} = {{{text}}}," for name, text in _bibtex_fields(source, kind).items()]
    return "\n".join([f"@{kind}{{{source.id},", *lines, "}", ""])


def _bibtex_fields(source: Source, kind: str) -> dict[str, str]:
    data: dict[str, Any] = source_data(source)
    fields = {
        name: " and ".join(map(_name, people))
        for name, people in (("author", source.author), ("editor", source.editor))
        if people
    }
    names = [
        *_FIELDS[:1],
        ("container-title", _CONTAINER_FIELDS.get(kind, "series")),
        ("publisher", _PUBLISHER_FIELDS.get(kind, "publisher")),
        *_FIELDS[1:],
    ]
    fields |= {name: _escaped(str(data[ours])) for ours, name in names if ours in data}
    if source.issued:
        year, *rest = source.issued.date_parts[0]
        fields["year"] = str(year)
        if rest:
            fields["month"] = str(rest[0])
    return fields


def _name(name: CslName) -> str:
    """Return a name as `Family, Given`; braces keep one that does not divide whole."""
    if name.family and name.given:
        return f"{_whole(name.family)}, {_whole(name.given)}"
    return f"{{{_escaped(str(name))}}}"


def _whole(part: str) -> str:
    """Return a part of a name; braces where BibTeX would take it apart."""
    escaped = _escaped(part)
    divides = "," in part or " and " in f" {part.casefold()} "
    return f"{{{escaped}}}" if divides else escaped


def _escaped(text: str) -> str:
    return "".join(_ESCAPES.get(character, character) for character in " ".join(text.split()))

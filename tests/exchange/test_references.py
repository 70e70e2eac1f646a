"""Sources as reference lists, read by programs that are not ours.

BibTeX is read by pybtex; CSL-JSON by citeproc-py, whose lists of variables are those of the
CSL 1.0.1 specification, appendix IV.
"""

from __future__ import annotations

import json
import string

import pytest
from citeproc import DATES, NAMES, VARIABLES
from citeproc import types as csl_types
from citeproc.source.json import CiteProcJSON
from hypothesis import given
from hypothesis import strategies as st
from pybtex.database import parse_string

from reedchord.exchange.references import bibtex, csl_json
from reedchord.source import CslType, Source

BOOK = Source.model_validate(
    {
        "id": "gulls_2031",
        "type": "book",
        "title": "Gulls & other 100% loud {birds}",
        "author": [
            {"family": "van der Marsh", "given": "Ada"},
            {"literal": "Harbour and Town Band"},
            {"family": "Mono"},
        ],
        "issued": {"date-parts": [[2031, 11]]},
        "publisher": "Tide Press",
        "publisher-place": "Kettlewick",
        "DOI": "10.1234/gull_1",
        "note": "invented for these tests",
    }
)
ARTICLE = Source.model_validate(
    {
        "id": "horns",
        "type": "article-journal",
        "title": "Fog horns",
        "container-title": "Journal of Fog",
        "volume": "3",
        "issue": "2",
        "page": "12-19",
    }
)
TALK = Source.model_validate({"id": "talk", "type": "personal_communication"})


def _read(*sources):
    return parse_string(bibtex(sources), "bibtex").entries


def _plain(text):
    braces = {r"\textbraceleft{}": "{", r"\textbraceright{}": "}", "\\": ""}
    for written, meant in braces.items():
        text = text.replace(written, meant)
    return text


def test_a_book_for_bibtex():
    entry = _read(BOOK)["gulls_2031"]
    assert entry.type == "book"
    assert _plain(entry.fields["title"]) == "Gulls & other 100% loud {birds}"
    assert (entry.fields["year"], entry.fields["month"]) == ("2031", "11")
    assert (entry.fields["publisher"], entry.fields["address"]) == ("Tide Press", "Kettlewick")
    van, band, mono = entry.persons["author"]
    assert (van.prelast_names, van.last_names) == (["van", "der"], ["Marsh"])
    assert band.last_names == ["{Harbour and Town Band}"]
    assert mono.last_names == ["{Mono}"]


def test_an_article_and_a_talk_for_bibtex():
    entries = _read(ARTICLE, TALK)
    assert list(entries) == ["horns", "talk"]
    fields = entries["horns"].fields
    assert (fields["journal"], fields["number"], fields["pages"]) == (
        "Journal of Fog",
        "2",
        "12-19",
    )
    assert entries["talk"].type == "misc"


TEXTS = st.text(string.ascii_letters + string.punctuation + " éß♯", min_size=1, max_size=30).filter(
    str.strip
)


@given(TEXTS, TEXTS, TEXTS)
def test_no_text_breaks_a_bibtex_entry(title, family, given):
    source = Source.model_validate(
        {
            "id": "odd",
            "type": "book",
            "title": title,
            "author": [{"family": family, "given": given}, {"literal": title}],
            "note": "last",
        }
    )
    entry = _read(source)["odd"]
    assert len(entry.persons["author"]) == 2
    assert entry.fields["note"] == "last"


def test_csl_json_is_read_by_another_program():
    items = json.loads(csl_json([BOOK, ARTICLE, TALK]))
    read = CiteProcJSON(items)
    assert set(read) == {"gulls_2031", "horns", "talk"}
    assert read["gulls_2031"].issued.year == 2031
    assert [str(name.family) for name in read["gulls_2031"].author[:1]] == ["van der Marsh"]
    assert read["horns"].container_title == ["Journal of Fog"]


@pytest.mark.parametrize("source", [BOOK, ARTICLE, TALK], ids=lambda source: source.id)
def test_csl_fields_are_variables_of_the_specification(source):
    [item] = json.loads(csl_json([source]))
    known = {name.replace("_", "-").casefold() for name in (*VARIABLES, *NAMES, *DATES)}
    assert {name.casefold() for name in item} <= known | {"id", "type"}


# CSL 1.0.2, appendix III, has these types; citeproc-py knows those of 1.0.1 (from memory).
SINCE_1_0_2 = {"dataset", "document", "performance", "article"}


def test_csl_types_are_types_of_the_specification():
    known = {getattr(csl_types, name) for name in dir(csl_types) if name.isupper()}
    assert set(CslType.__args__) - SINCE_1_0_2 <= known

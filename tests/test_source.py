"""Sources in CSL-JSON fields, and how a footnote or a score cites them. All invented."""

import pytest
from pydantic import ValidationError

from reedchord.source import Citation, CslName, Source

NOTEBOOK = {
    "id": "lamplighter2031",
    "type": "manuscript",
    "title": "A notebook of split sounds",
    "author": [{"family": "Lamplighter", "given": "Isolde"}],
    "issued": {"date-parts": [[2031, 5]]},
    "note": "invented for these tests",
}


def test_a_footnote_names_who_what_and_when():
    assert str(Source.model_validate(NOTEBOOK)) == (
        "Isolde Lamplighter, A notebook of split sounds, 2031 (invented for these tests)"
    )


def test_a_chapter_names_the_book_that_holds_it():
    chapter = NOTEBOOK | {
        "type": "chapter",
        "container-title": "Sounds of the Reedbed",
        "publisher": "Marsh Press",
        "note": None,
    }
    assert str(Source.model_validate(chapter)) == (
        "Isolde Lamplighter, A notebook of split sounds, Sounds of the Reedbed, Marsh Press, 2031"
    )


@pytest.mark.parametrize(
    ("fields", "brief"),
    [
        ({}, "Lamplighter 2031"),
        ({"issued": None}, "Lamplighter n.d."),
        ({"author": [{"literal": "The Reedbed Players"}]}, "The Reedbed Players 2031"),
        ({"author": [], "editor": [{"family": "Sedge"}]}, "Sedge 2031"),
        ({"author": []}, "A notebook of split sounds 2031"),
        ({"author": [], "title": None}, "lamplighter2031 2031"),
        ({"author": [{"family": name} for name in ("Reed", "Sedge")]}, "Reed and Sedge 2031"),
        ({"author": [{"family": name} for name in ("Reed", "Rush", "Fen")]}, "Reed et al. 2031"),
    ],
)
def test_a_score_names_the_source_in_few_words(fields, brief):
    assert Source.model_validate(NOTEBOOK | fields).brief() == brief


def test_an_editor_is_marked_as_one():
    edited = Source.model_validate(NOTEBOOK | {"author": [], "editor": [{"family": "Sedge"}]})
    assert str(edited).startswith("ed. Sedge, A notebook")


@pytest.mark.parametrize(
    ("locator", "words"),
    [
        ({}, "lamplighter2031"),
        ({"page": "12"}, "lamplighter2031, p. 12"),
        ({"page": 12, "number": 7}, "lamplighter2031, p. 12, no. 7"),
        ({"page": "12-13"}, "lamplighter2031, pp. 12-13"),
        ({"number": "7b"}, "lamplighter2031, no. 7b"),
    ],
)
def test_a_citation_points_to_page_and_number(locator, words):
    assert str(Citation.model_validate({"id": "lamplighter2031", **locator})) == words


def test_a_citation_that_knows_its_source_names_it():
    citation = Citation.model_validate(
        {"id": "lamplighter2031", "page": 12, "entry": NOTEBOOK | {"note": None}}
    )
    assert str(citation) == "Isolde Lamplighter, A notebook of split sounds, 2031, p. 12"
    assert citation.brief() == "Lamplighter 2031, p. 12"


def refused(model, fields):
    with pytest.raises(ValidationError) as caught:
        model.model_validate(fields)
    (error,) = caught.value.errors()
    return error["loc"], error.get("ctx", {}).get("hint")


@pytest.mark.parametrize(
    ("field", "given", "hint"),
    [
        ("id", "two words", "An id starts with a letter; letters, digits and _ . : + - follow"),
        ("id", "lamplighter\n", "An id starts with a letter"),
        ("DOI", "https://doi.org/10.1234/abc", "bare and in lower case"),
        ("DOI", "10.1234/ABC", "bare and in lower case"),
        ("URL", "www.example.org", "starts with https://"),
        ("title", "Split\x00sounds", "Take it out"),
        ("issued", {"date-parts": [[2031, 13]]}, "year, month, day"),
        ("issued", {"date-parts": [[2031, 12, 32]]}, "year, month, day"),
    ],
)
def test_a_field_of_the_wrong_form_is_told_the_right_one(field, given, hint):
    place, told = refused(Source, NOTEBOOK | {field: given})
    assert place == (field,)
    assert hint in told


def test_numbers_of_volumes_may_be_numbers():
    source = Source.model_validate(NOTEBOOK | {"volume": 3, "issue": 2, "edition": 1})
    assert (source.volume, source.issue, source.edition) == ("3", "2", "1")


def test_a_name_has_letters():
    place, hint = refused(CslName, {})
    assert place == ()
    assert hint == "Give family and given, or literal."


def test_a_citation_holds_the_source_that_it_names():
    place, hint = refused(Citation, {"id": "sedge2030", "entry": NOTEBOOK})
    assert place == ()
    assert hint == "Leave entry out: the list of sources is searched for the id."


def test_a_source_goes_to_json_and_back():
    source = Source.model_validate(
        NOTEBOOK | {"DOI": "10.1234/reed.5", "publisher-place": "Fen Edge"}
    )
    data = source.model_dump(mode="json", by_alias=True, exclude_defaults=True)
    assert data["DOI"] == "10.1234/reed.5"
    assert data["issued"] == {"date-parts": [[2031, 5]]}
    assert Source.model_validate(data) == source

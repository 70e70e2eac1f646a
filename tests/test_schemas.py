"""The published schemas, held against the standard, the demonstration and our own reader.

The outside check is `jsonschema`, an independent implementation of JSON Schema 2020-12.
"""

import json
from importlib.resources import files
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from reedchord.collection_reading import parse_collection
from reedchord.errors import ReedchordError
from reedchord.schemas import schema_texts
from reedchord.yaml_text import read_data_text

PUBLISHED = Path(__file__).parent.parent / "schemas"
EXAMPLES = {
    "collection.schema.json": "harbour-band.yaml",
    "plan.schema.json": "harbour-plan.yaml",
    "wishes.schema.json": "harbour-wishes.yaml",
}
SCHEMAS = {name: json.loads(text) for name, text in schema_texts().items()}


def example(name):
    text = files("reedchord").joinpath("demo_data", EXAMPLES[name]).read_text("utf-8")
    return read_data_text(text, EXAMPLES[name]).data


def test_the_published_schemas_are_those_of_the_records():
    published = {path.name: json.loads(path.read_text("utf-8")) for path in PUBLISHED.iterdir()}
    assert published == SCHEMAS, "write schema_texts() into schemas/ again"


@pytest.mark.parametrize("name", SCHEMAS)
def test_a_schema_keeps_to_the_standard_and_has_a_name_that_never_moves(name):
    schema = SCHEMAS[name]
    Draft202012Validator.check_schema(schema)
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert schema["$id"] == f"urn:reedchord:schema:{name.partition('.')[0]}:1"


@pytest.mark.parametrize("name", SCHEMAS)
def test_every_field_has_a_sentence(name):
    schema = SCHEMAS[name]
    for record in (schema, *schema.get("$defs", {}).values()):
        for field in record.get("properties", {}).values():
            assert field["description"].endswith((".", "`."))


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_demonstration_is_valid(name):
    Draft202012Validator(SCHEMAS[name]).validate(example(name))


COLLECTION = "collection.schema.json"
MISTAKES = [
    ("title", 3),
    ("version", 2),
    ("reedchord", "plan"),
    ("sonorites", []),
    (("sonorities", 0, "saxophone"), "altto"),
    (("sonorities", 0, "evidence"), "heard"),
    (("sonorities", 0, "id"), "two words"),
    (("sonorities", 0, "tones"), []),
    (("sonorities", 0, "tones", 0), {"presence": {"p": "clear"}}),
    (("sonorities", 0, "tones", 0, "presence"), {"p": "loud"}),
    (("sonorities", 0, "limits", 0, "articulation"), "tongue"),
    (("sonorities", 0, "build_up"), ["first"]),
    (("sources", 0, "type"), "notebook"),
    (("sources", 0, "issued"), {"date-parts": [["2025"]]}),
]


@pytest.mark.parametrize(("path", "given"), MISTAKES)
def test_schema_and_reader_refuse_the_same_mistakes(path, given):
    data = example(COLLECTION)
    *outer, last = path if isinstance(path, tuple) else (path,)
    part = data
    for key in outer:
        part = part[key]
    part[last] = given
    assert not Draft202012Validator(SCHEMAS[COLLECTION]).is_valid(data)
    with pytest.raises(ReedchordError):
        parse_collection(json.dumps(data), "mistaken.json")

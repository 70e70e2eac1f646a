"""JSON Schemas (2020-12) of the file formats, made from the records that read them."""

from __future__ import annotations

import ast
import inspect
import json
import textwrap
from collections.abc import Iterator
from itertools import pairwise
from typing import Any, get_args

from reedchord.chains.chain_file import WishesFile
from reedchord.collection_file import CollectionFile
from reedchord.exchange.csv_mapping import MappingFile
from reedchord.placement.plan import PlanFile
from reedchord.record_fields import Record
from reedchord.trials.set_ups import SetUpFile
from reedchord.trials.to_try import ToTryFile
from reedchord.trials.trial_fields import TrialsFile

_FORMATS: dict[str, type[Record]] = {
    "collection": CollectionFile,
    "mapping": MappingFile,
    "plan": PlanFile,
    "set-up": SetUpFile,
    "to-try": ToTryFile,
    "trials": TrialsFile,
    "wishes": WishesFile,
}
"""Every file format: what its files say after `reedchord:`, and the record of a whole file."""


def schema_texts() -> dict[str, str]:
    """Return the schema of every format as JSON text, by the name of its file."""
    return {
        f"{name}.schema.json": json.dumps(_schema(name, model), indent=2, ensure_ascii=False) + "\n"
        for name, model in _FORMATS.items()
    }


def _schema(name: str, model: type[Record]) -> dict[str, Any]:
    (version,) = get_args(model.model_fields["version"].annotation)
    schema = model.model_json_schema(by_alias=True, mode="validation")
    for part in {model, *_records_within(model)}:
        described = schema if part is model else schema["$defs"][part.__name__]
        _describe_fields(part, described["properties"])
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": f"urn:reedchord:schema:{name}:{version}",
        **schema,
        "title": f"Reedchord {name}, version {version}",
    }


def _records_within(annotation: Any) -> Iterator[type[Record]]:
    """Yield the records in the fields of a record, and in types such as `tuple[Tone, ...]`."""
    if isinstance(annotation, type) and issubclass(annotation, Record):
        for field in annotation.model_fields.values():
            yield from _records_of_type(field.annotation)


def _records_of_type(annotation: Any) -> Iterator[type[Record]]:
    if isinstance(annotation, type) and issubclass(annotation, Record):
        yield annotation
        yield from _records_within(annotation)
    for part in get_args(annotation):
        yield from _records_of_type(part)


def _describe_fields(model: type[Record], properties: dict[str, Any]) -> None:
    """Give every field the sentence that stands below it in the source, and no made-up title."""
    sentences = _sentences(model)
    for name, field in model.model_fields.items():
        schema = properties[field.alias or name]
        schema.pop("title", None)
        schema["description"] = sentences[name]


def _sentences(model: type[Record]) -> dict[str, str]:
    """Return the string below each field of a record and of the records it inherits from.

    Python keeps no such strings, and reading the source costs every start of the program
    time that only this module needs.
    """
    found: dict[str, str] = {}
    for part in reversed(model.__mro__):
        if issubclass(part, Record):
            (tree,) = ast.parse(textwrap.dedent(inspect.getsource(part))).body
            assert isinstance(tree, ast.ClassDef)
            for field, below in pairwise(tree.body):
                if isinstance(field, ast.AnnAssign) and isinstance(below, ast.Expr):
                    found[ast.unparse(field.target)] = inspect.cleandoc(
                        ast.literal_eval(below.value)
                    )
    return found

"""Validation against the MusicXML 4.0 schema (W3C Community Group Report), partwise and timewise.

The schema is the one that the package `musicxml` ships; its imports of xml.xsd and xlink.xsd
are met by the W3C files in the package `xmlschema`, so that nothing touches the network.
"""

from __future__ import annotations

import functools
import importlib.util
import re
from collections import Counter
from pathlib import Path
from typing import Any

from lxml import etree

from truth.score_text import root_file

_IMPORTED = {"xml.xsd": "schemas/XML/xml.xsd", "xlink.xsd": "schemas/XLINK/xlink.xsd"}


class _Imports(etree.Resolver):
    def resolve(self, system_url: str, public_id: str, context: Any) -> Any:  # noqa: ARG002
        # The whole last segment counts: musicxml_4_0.xsd ends with "xml.xsd" nearly as well.
        name = system_url.rsplit("/", 1)[-1]
        if name not in _IMPORTED:
            return None
        return self.resolve_filename(str(package_folder("xmlschema") / _IMPORTED[name]), context)


def package_folder(package: str) -> Path:
    """Return where a package is installed, without importing it."""
    spec = importlib.util.find_spec(package)
    assert spec is not None, f"{package} is not installed"
    assert spec.origin is not None, f"{package} has no folder"
    return Path(spec.origin).parent


def schema_file() -> Path:
    """Return the path of musicxml_4_0.xsd, for tests that read names out of it."""
    return package_folder("musicxml") / "generate_classes" / "musicxml_4_0.xsd"


@functools.cache
def _schema() -> etree.XMLSchema:
    parser = etree.XMLParser(no_network=True)
    parser.resolvers.add(_Imports())
    return etree.XMLSchema(etree.parse(str(schema_file()), parser))


def schema_errors(data: bytes) -> list[str]:
    """Return what the schema objects to, as texts without line numbers; [] means valid.

    Takes a MusicXML document or an .mxl. No DTD is loaded or applied, no entity
    expanded. A document that is not well-formed or declares entities gives one error.
    """
    parser = etree.XMLParser(
        no_network=True, load_dtd=False, resolve_entities=False, huge_tree=True
    )
    try:
        root = etree.fromstring(root_file(data), parser)
    except etree.XMLSyntaxError as error:
        return ["not well-formed: " + re.sub(r",? ?line \d+(, column \d+)?.*", "", str(error))]
    dtd = root.getroottree().docinfo.internalDTD
    if dtd is not None and dtd.entities():
        return ["declares entities, which no score needs"]
    schema = _schema()
    schema.validate(root)
    return [f"{_without_positions(e.path)}: {e.message}" for e in schema.error_log]


def new_schema_errors(before: bytes, after: bytes) -> list[str]:
    """Return the errors of `after` that `before` has not, or not as often."""
    fresh = Counter(schema_errors(after)) - Counter(schema_errors(before))
    return sorted(fresh.elements())


def _without_positions(path: str | None) -> str:
    return re.sub(r"\[\d+\]", "", path or "")

"""A collection as one page to browse: no server, no network, everything inside."""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from reedchord.collection import Collection
from reedchord.drawing.staff_picture import glyph_symbols
from reedchord.drawing.templates import filled_page, template_text
from reedchord.errors import RequestError
from reedchord.file_endings import refused_ending
from reedchord.pages.browse_data import browse_data
from reedchord.wording import CAUTIONS

SUFFIXES = (".html", ".htm")
SCRIPTS = ("wish", "match", "keyboard", "entry", "controls", "page")
"""The parts of the page's script, in the order in which they need one another."""


def browse_page(collection: Collection) -> str:
    """Return the page; the same collection gives the same bytes.

    Raises RequestError for a collection without sonorities.
    """
    if not len(collection):
        raise RequestError(
            "browse.empty",
            f"{collection.origin} holds no sonority",
            hint="A page needs at least one to show.",
        )
    style = template_text("browse/style.css")
    script = "".join(template_text(f"browse/{name}.js") for name in SCRIPTS)
    facts = {
        "name": Path(collection.origin).resolve().name,
        "policy": content_policy(style, script),
        "style": style,
        "script": script,
        "symbols": "".join(glyph_symbols()),
        "data": json_in_html(browse_data(collection)),
        "cautions": CAUTIONS,
    }
    return filled_page("browse/page.html", facts)


def check_page_name(path: Path) -> None:
    """Raise RequestError unless a file's ending is that of a page."""
    if path.suffix.casefold() not in SUFFIXES:
        raise refused_ending(path, SUFFIXES, "a page to browse")


def content_policy(style: str, script: str) -> str:
    """Return the Content-Security-Policy that allows this style and script, and no request."""
    return (
        f"default-src 'none'; style-src {_hash_of(style)}; script-src {_hash_of(script)}; "
        "base-uri 'none'; form-action 'none'"
    )


def _hash_of(text: str) -> str:
    digest = hashlib.sha256(text.encode("utf-8")).digest()
    return f"'sha256-{base64.b64encode(digest).decode('ascii')}'"


def json_in_html(data: Mapping[str, Any]) -> str:
    """Return JSON that cannot end the script element that it stands in."""
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"))
    return text.replace("<", "\\u003c").replace("\u2028", "\\u2028").replace("\u2029", "\\u2029")

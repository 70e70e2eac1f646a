"""Templates of pages that come with the package: HTML filled in here, page descriptions as text."""

from __future__ import annotations

import base64
from collections.abc import Mapping
from importlib.resources import files
from typing import Any

_FOLDER = "page_templates"


def template_text(name: str) -> str:
    """Return a template as it stands."""
    return files("reedchord").joinpath(_FOLDER, name).read_text("utf-8")


def filled_page(name: str, facts: Mapping[str, Any]) -> str:
    """Return an HTML page: the template with these facts in it, text made harmless.

    A name that the template uses and nobody gives is a mistake of ours, and raises.
    """
    from jinja2 import Environment, FunctionLoader, StrictUndefined

    pages = Environment(
        loader=FunctionLoader(template_text),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    pages.filters["data_uri"] = _data_uri
    return pages.get_template(name).render(facts)


def _data_uri(svg: str) -> str:
    """Return an SVG for an `<img>`, where its styles and ids meet no others of the page."""
    data = base64.b64encode(svg.encode("utf-8")).decode("ascii")
    return f"data:image/svg+xml;base64,{data}"

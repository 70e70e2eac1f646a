"""MusicXML bytes as text, and the root file out of an .mxl container."""

from __future__ import annotations

import codecs
import io
import re
import zipfile

_BEGINNINGS = {
    codecs.BOM_UTF8: "utf-8",
    codecs.BOM_UTF32_LE: "utf-32-le",  # before UTF-16, which begins alike
    codecs.BOM_UTF16_LE: "utf-16-le",
    codecs.BOM_UTF16_BE: "utf-16-be",
    b"<\0": "utf-16-le",
}
_DECLARED = re.compile(rb"""<\?xml[^>]*?encoding\s*=\s*["']([A-Za-z0-9._-]+)["']""")
_DECLARATION = re.compile(r"\A\ufeff?\s*<\?xml[^>]*\?>")


def root_file(data: bytes) -> bytes:
    """Return the score's own bytes: `data` itself, or what container.xml of an .mxl points to."""
    if not data.startswith(b"PK\x03\x04"):
        return data
    with zipfile.ZipFile(io.BytesIO(data)) as container:
        index = container.read("META-INF/container.xml").decode("utf-8")
        path = re.search(r"""full-path\s*=\s*["']([^"']+)["']""", index)
        assert path is not None, "container.xml names no root file"
        return container.read(path[1])


def encoding_of(data: bytes) -> str:
    """Return the codec of a MusicXML document: its BOM, its declaration, else UTF-8."""
    for bom, codec in _BEGINNINGS.items():
        if data.startswith(bom):
            return codec
    declared = _DECLARED.match(data)
    return declared[1].decode("ascii").lower() if declared else "utf-8"


def as_text(data: bytes) -> str:
    """Return the document as text without BOM and declaration, for readers that take text."""
    return _DECLARATION.sub("", data.decode(encoding_of(data)), count=1)

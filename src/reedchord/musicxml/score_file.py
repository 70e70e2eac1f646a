"""A score as it lies in a file: alone, or in a package with other files."""

from __future__ import annotations

from typing import NamedTuple

_SCORE_SUFFIXES = (".musicxml", ".xml")
_ZIP_SIGNATURES = (b"PK\x03\x04", b"PK\x05\x06")


class Package(NamedTuple):
    """An .mxl package: its bytes, the name of its score, the names of all its files."""

    data: bytes
    root_name: str
    names: tuple[str, ...]


class ScoreFile(NamedTuple):
    """The bytes of a MusicXML document, the package it came in, and remarks for the user."""

    data: bytes
    package: Package | None
    notes: tuple[str, ...]


def is_package(data: bytes) -> bool:
    """Tell whether bytes begin as a package does."""
    return data.startswith(_ZIP_SIGNATURES)


def is_score_name(name: str) -> bool:
    """Tell whether a file of a package is called as a score is, and in the open."""
    folders, _, last = name.rpartition("/")
    hidden = last.startswith(".") or folders.startswith(("META-INF", "__MACOSX"))
    return last.lower().endswith(_SCORE_SUFFIXES) and not hidden

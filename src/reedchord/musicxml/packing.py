"""Packages (.mxl): the score comes out, and goes back with all else unchanged."""

from __future__ import annotations

import copy
import re
import struct
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from html import escape
from io import BytesIO
from zipfile import ZIP_DEFLATED, ZIP_STORED, BadZipFile, ZipFile, ZipInfo

from reedchord.errors import InputError, did_you_mean
from reedchord.musicxml.safe_xml import parse_any
from reedchord.musicxml.score_file import Package, ScoreFile, is_package, is_score_name
from reedchord.musicxml.score_text import MAX_SCORE_BYTES, read_score_text

MAX_ENTRIES = 2_000
MAX_ENTRY_BYTES = MAX_SCORE_BYTES
MAX_TOTAL_BYTES = 512 * 2**20
MAX_RATIO = 200
RATIO_COUNTS_ABOVE_BYTES = 2**20

CONTAINER = "META-INF/container.xml"
MIMETYPE = "mimetype"
MEDIA_TYPE = "application/vnd.recordare.musicxml"

_SCORE_MEDIA_TYPES = ("", MEDIA_TYPE, f"{MEDIA_TYPE}+xml", "application/xml", "text/xml")
_DIRECTORY_SIGNATURE = b"PK\x01\x02"
_ENCRYPTED = 0x1
_PIECE_BYTES = 2**20
_UNSAFE_NAME = r"(?s:\Z|/|[A-Za-z]:|(?:.*/)?\.\.(?:/|\Z)|.*\0)"
_ZIP_FAULTS = (BadZipFile, zlib.error, struct.error, EOFError, RuntimeError, ValueError)


def unpacked(data: bytes) -> ScoreFile:
    """Return the score of a package, with the names of all its files.

    Raises the errors of `open_score`.
    """
    with _archive(data) as archive:
        _refuse_unsafe(archive.infolist())
        files = {info.filename: info for info in archive.infolist() if not info.is_dir()}
        root_name, notes = _root_name(archive, files)
        score = _read(archive, files[root_name])
    if is_package(score):
        raise InputError(
            "mxl.nested",
            f"{root_name} in the package is a package again",
            hint="Unpack it once.",
        )
    return ScoreFile(score, Package(data, root_name, tuple(files)), notes)


def repack(file: ScoreFile, score: bytes) -> bytes:
    """Return the file's bytes with another score in it; every other entry stays as it is.

    An unchanged score gives back the original bytes. Raises InputError `mxl.broken` or
    `mxl.ratio` where another entry cannot be read.
    """
    package = file.package
    if package is None:
        return score
    if score == file.data:
        return package.data
    packed = BytesIO()
    with _archive(package.data) as old, ZipFile(packed, "w") as new:
        new.comment = old.comment
        for info in sorted(old.infolist(), key=lambda info: info.filename != MIMETYPE):
            content = score if info.filename == package.root_name else _read(old, info)
            kept = copy.copy(info)
            if info.filename == MIMETYPE:
                kept.compress_type = ZIP_STORED
            new.writestr(kept, content)
            kept.external_attr = info.external_attr  # zipfile fills in what was empty
    return packed.getvalue()


def new_package(score: bytes, root_name: str = "score.musicxml") -> bytes:
    """Return a fresh .mxl with this score alone; equal scores give equal bytes.

    Layout: MusicXML 4.0, "Compressed .mxl files". Raises ValueError for an unsafe name.
    """
    if re.match(_UNSAFE_NAME, root_name.replace("\\", "/")):
        raise ValueError(f"{root_name!r} is no name for a file in a package")
    container = (
        '<?xml version="1.0" encoding="UTF-8"?>\n<container>\n  <rootfiles>\n'
        f'    <rootfile full-path="{escape(root_name)}" media-type="{MEDIA_TYPE}+xml"/>\n'
        "  </rootfiles>\n</container>\n"
    )
    packed = BytesIO()
    with ZipFile(packed, "w") as archive:
        for name, content, method in (
            (MIMETYPE, MEDIA_TYPE.encode(), ZIP_STORED),
            (CONTAINER, container.encode(), ZIP_DEFLATED),
            (root_name, score, ZIP_DEFLATED),
        ):
            info = ZipInfo(name)  # dated 1980-01-01: a package must not depend on the clock
            info.create_system = 3
            info.external_attr = 0o644 << 16
            info.compress_type = method
            archive.writestr(info, content)
    return packed.getvalue()


@contextmanager
def _archive(data: bytes) -> Iterator[ZipFile]:
    if data.count(_DIRECTORY_SIGNATURE) > MAX_ENTRIES:
        raise InputError("mxl.entries", f"the package has more than {MAX_ENTRIES:,} entries")
    try:
        archive = ZipFile(BytesIO(data))
    except _ZIP_FAULTS as error:
        raise _broken("the package", error) from error
    with archive:
        yield archive


def _broken(what: str, error: Exception) -> InputError:
    return InputError(
        "mxl.broken",
        f"{what} is damaged and cannot be unpacked ({error})",
        hint="Fetch or export the file again; it may have been cut off.",
    )


def _refuse_unsafe(infos: list[ZipInfo]) -> None:
    seen: set[str] = set()
    total_bytes = 0
    for info in infos:
        name = info.orig_filename.replace("\\", "/")
        total_bytes += info.file_size
        if re.match(_UNSAFE_NAME, name):
            raise _refused("mxl.name", f"has an entry whose name is unsafe: {name!r}")
        if name in seen:
            raise _refused("mxl.duplicate", f"has two entries named {name!r}")
        if info.flag_bits & _ENCRYPTED:
            raise _refused("mxl.encrypted", f"has an encrypted entry: {name!r}")
        if info.compress_type not in (ZIP_STORED, ZIP_DEFLATED):
            raise _refused(
                "mxl.method", f"packs {name!r} in another way than deflate, the only one allowed"
            )
        seen.add(name)
        _refuse_bomb(info, info.file_size)
    if total_bytes > MAX_TOTAL_BYTES:
        raise _refused("mxl.size", f"holds {total_bytes:,} bytes, more than {MAX_TOTAL_BYTES:,}")


def _refuse_bomb(info: ZipInfo, size_bytes: int) -> None:
    name = info.filename
    if size_bytes > MAX_ENTRY_BYTES:
        raise _refused("mxl.size", f"has an entry of more than {MAX_ENTRY_BYTES:,} bytes: {name!r}")
    if size_bytes > max(RATIO_COUNTS_ABOVE_BYTES, MAX_RATIO * info.compress_size):
        raise _refused(
            "mxl.ratio", f"has an entry that grows more than {MAX_RATIO} times: {name!r}"
        )


def _refused(code: str, fault: str) -> InputError:
    return InputError(
        code,
        f"the package {fault}",
        hint="Export the score again as .mxl, or give the plain .musicxml file.",
    )


def _read(archive: ZipFile, info: ZipInfo) -> bytes:
    """Return one entry, counted while it is unpacked because headers may lie."""
    pieces: list[bytes] = []
    size_bytes = 0
    try:
        with archive.open(info) as stream:
            while piece := stream.read(_PIECE_BYTES):
                pieces.append(piece)
                size_bytes += len(piece)
                _refuse_bomb(info, size_bytes)
    except _ZIP_FAULTS as error:
        raise _broken(f"{info.filename!r} in the package", error) from error
    return b"".join(pieces)


def _root_name(archive: ZipFile, files: dict[str, ZipInfo]) -> tuple[str, tuple[str, ...]]:
    """Return the name of the score, and what there is to say about the choice."""
    listed = _listed_root(archive, files)
    if listed is not None:
        if listed not in files:
            raise InputError(
                "mxl.root",
                f"{CONTAINER} names {listed!r}, which is not in the package",
                hint=did_you_mean(listed, filter(is_score_name, files)),
            )
        return listed, ()
    scores = [name for name in files if is_score_name(name)]
    if len(scores) != 1:
        found = ", ".join(scores) or "none"
        raise InputError(
            "mxl.root",
            f"the package does not say which file is the score ({CONTAINER} names none)",
            hint=f"Scores found in it: {found}. Unpack it and give one of them.",
        )
    return scores[0], (
        f"The package does not name its score ({CONTAINER}); {scores[0]} is the only one in it.",
    )


def _listed_root(archive: ZipFile, files: dict[str, ZipInfo]) -> str | None:
    """Return the first score that the container lists; the schema allows other media too."""
    if CONTAINER not in files:
        return None
    try:
        root = parse_any(read_score_text(_read(archive, files[CONTAINER])))
    except InputError as error:
        raise InputError(
            "mxl.container",
            f"{CONTAINER} in the package cannot be read: {error.message}",
            hint=error.hint,
        ) from error
    for entry in root.iter("{*}rootfile"):
        if entry.get("media-type", "").strip().lower() in _SCORE_MEDIA_TYPES:
            return entry.get("full-path", "").removeprefix("./")
    return None

"""Packages that no program should have to open, each with the code of its refusal."""

from __future__ import annotations

import io
import struct
import zipfile
from collections.abc import Iterable

from hostile.hostile_documents import Hostile
from samples import RESTS

CONTAINER = "META-INF/container.xml"
LISTED = b'<container><rootfiles><rootfile full-path="score.xml"/></rootfiles></container>'


def package(
    *entries: tuple[str, bytes], listing: bytes | None = LISTED, method: int = zipfile.ZIP_DEFLATED
) -> bytes:
    """Return an .mxl with these entries behind its listing."""
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", method) as archive:
        if listing is not None:
            archive.writestr(_info(CONTAINER, method), listing)
        for name, content in entries:
            archive.writestr(_info(name, method), content)
    return packed.getvalue()


def _info(name: str, method: int) -> zipfile.ZipInfo:
    info = zipfile.ZipInfo(name)  # of 1980: the same bytes in every run
    info.compress_type = method
    return info


SCORE = ("score.xml", RESTS)
GOOD = package(SCORE)
STORED = package(SCORE, method=zipfile.ZIP_STORED)


def with_name(name: str) -> bytes:
    """Return a package with one entry more."""
    return package(SCORE, (name, b"x"))


def with_flag(data: bytes, flag: int) -> bytes:
    """Set the flags of the first entry in the directory (APPNOTE.TXT, 4.3.12)."""
    at = data.index(b"PK\x01\x02") + 8
    return data[:at] + struct.pack("<H", flag) + data[at + 2 :]


def overlapping(copies: int, size: int) -> bytes:
    """Return a package whose directory lists one large entry many times under other names."""
    base = package(SCORE, ("big-0000.xml", bytes(size)))
    directory_at = struct.unpack("<I", base[-6:-2])[0]
    directory, end = base[directory_at:-22], base[-22:]
    at = directory.rindex(b"PK\x01\x02")
    more = b"".join(
        directory[at:].replace(b"big-0000", b"big-%04d" % number) for number in range(1, copies)
    )
    count = struct.unpack("<H", end[10:12])[0] + copies - 1
    sizes = struct.pack("<HHI", count, count, len(directory) + len(more))
    return base[:directory_at] + directory + more + end[:8] + sizes + end[16:]


def _mxl(name: str, data: bytes, code: str, says: Iterable[str] = ()) -> Hostile:
    return Hostile(name, data, code, tuple(says), ".mxl")


PACKAGES = (
    _mxl("a bomb", package(("score.xml", bytes(60_000_000))), "mxl.ratio", ["200 times"]),
    _mxl("a bomb beside the score", package(SCORE, ("x.png", bytes(60_000_000))), "mxl.ratio"),
    _mxl(
        "a bomb that lies about its size",
        package(("score.xml", bytes(60_000_000))).replace(
            struct.pack("<I", 60_000_000), struct.pack("<I", 1_000)
        ),
        "mxl.broken",
    ),
    _mxl("one entry under many names", overlapping(60, 20_000_000), "mxl.ratio"),
    _mxl("a package in a package", package(("score.xml", GOOD)), "mxl.nested", ["score.xml"]),
    _mxl("an absolute name", with_name("/etc/x"), "mxl.name", ["/etc/x"]),
    _mxl("a name that leads out", with_name("../../x"), "mxl.name", ["../../x"]),
    _mxl("a name that leads out in the middle", with_name("a/../../x"), "mxl.name"),
    _mxl("a name that leads out with backslashes", with_name("..\\x"), "mxl.name"),
    _mxl("a name on a drive", with_name("C:\\x"), "mxl.name"),
    _mxl(
        "a name with a hidden end",
        with_name("x.xmlQ.exe").replace(b"x.xmlQ", b"x.xml\0"),
        "mxl.name",
    ),
    _mxl(
        "a name twice",
        package(SCORE, ("scorf.xml", b"<x/>")).replace(b"scorf", b"score"),
        "mxl.duplicate",
        ["score.xml"],
    ),
    _mxl("an encrypted entry", with_flag(GOOD, 1), "mxl.encrypted"),
    _mxl("bzip2", package(SCORE, method=zipfile.ZIP_BZIP2), "mxl.method"),
    _mxl("LZMA", package(SCORE, method=zipfile.ZIP_LZMA), "mxl.method"),
    _mxl(
        "too many entries",
        package(SCORE, *((f"{n}.txt", b"") for n in range(5_000))),
        "mxl.entries",
        ["2,000"],
    ),
    _mxl("no listing and two scores", package(SCORE, ("b.xml", RESTS), listing=None), "mxl.root"),
    _mxl("no listing and no score", package(("a.txt", b"x"), listing=None), "mxl.root", ["none"]),
    _mxl("a listing of what is not there", package(("a.xml", RESTS)), "mxl.root", ["score.xml"]),
    _mxl(
        "a listing of what lies outside",
        package(SCORE, listing=LISTED.replace(b"score.xml", b"../../etc/hostname")),
        "mxl.root",
    ),
    _mxl("a broken listing", package(SCORE, listing=b"<container>"), "mxl.container"),
    _mxl(
        "a listing with an entity",
        package(
            SCORE,
            listing=b'<!DOCTYPE container [<!ENTITY a SYSTEM "file:///etc/hostname">]>'
            b'<container><rootfiles><rootfile full-path="&a;"/></rootfiles></container>',
        ),
        "mxl.container",
        ["entity"],
    ),
    _mxl("broken off", GOOD[: len(GOOD) // 2], "mxl.broken"),
    _mxl("a false checksum", STORED.replace(b"Alto", b"Bass"), "mxl.broken", ["score.xml"]),
    _mxl("a score that is a PDF", package(("score.xml", b"%PDF-1.7")), "score.not-xml", ["PDF"]),
    _mxl(
        "a score with an entity",
        package(("score.xml", b'<!DOCTYPE x [<!ENTITY a "b">]><score-partwise/>')),
        "xml.entity",
    ),
    _mxl("nothing but the end of a package", package(listing=None), "mxl.root"),
)

"""Sound packages of every kind around the plain score."""

from __future__ import annotations

import io
import zipfile

from shapes.odd_documents import PLAIN, Odd

CONTAINER = "META-INF/container.xml"
MEDIA_TYPE = "application/vnd.recordare.musicxml"
SCORE = PLAIN.encode()
PART = SCORE.replace(b"Alto Saxophone", b"Alto Saxophone, the part")


def listing(*files: tuple[str, str]) -> bytes:
    """Return a container's list of files, each with its media type."""
    rows = "".join(f'<rootfile full-path="{path}" media-type="{kind}"/>' for path, kind in files)
    return f"<container><rootfiles>{rows}</rootfiles></container>".encode()


LISTED = listing(("score.xml", f"{MEDIA_TYPE}+xml"))


def package(
    *entries: tuple[str, bytes], method: int = zipfile.ZIP_DEFLATED, comment: bytes = b""
) -> bytes:
    """Return a package of these entries, a mimetype stored."""
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", method) as archive:
        archive.comment = comment
        for name, content in entries:
            info = zipfile.ZipInfo(name)
            info.compress_type = zipfile.ZIP_STORED if name == "mimetype" else method
            archive.writestr(info, content)
    return packed.getvalue()


class _NoSeeking(io.BytesIO):
    """A stream as a program writes it that cannot go back: sizes stand behind each entry."""

    def seekable(self) -> bool:
        return False

    def seek(self, *_: object) -> int:
        raise io.UnsupportedOperation

    def tell(self) -> int:
        raise io.UnsupportedOperation


def streamed() -> bytes:
    """Return a package whose entries tell their sizes behind themselves."""
    packed = _NoSeeking()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(zipfile.ZipInfo(CONTAINER), LISTED)
        archive.writestr(zipfile.ZipInfo("score.xml"), SCORE)
    return packed.getvalue()


LIST, ROOT = (CONTAINER, LISTED), ("score.xml", SCORE)

PACKAGES = (
    Odd("deflated", package(LIST, ROOT)),
    Odd("stored", package(LIST, ROOT, method=zipfile.ZIP_STORED)),
    Odd("with a mimetype", package(("mimetype", MEDIA_TYPE.encode()), LIST, ROOT)),
    Odd("the list last", package(ROOT, LIST)),
    Odd("bundled parts", package(LIST, ROOT, ("part-1.xml", PART), ("part-2.xml", PART))),
    Odd("a part before the score", package(("part-1.xml", PART), LIST, ROOT)),
    Odd("junk", package(LIST, ("__MACOSX/._score.xml", b"\0"), (".DS_Store", b"\0"), ROOT)),
    Odd("a PDF and a folder", package(LIST, ("x/", b""), ("x/score.pdf", b"%PDF-1.7"), ROOT)),
    Odd("a comment", package(LIST, ROOT, comment=b"from the library")),
    Odd("no list", package(ROOT)),
    Odd("sizes behind the entries", streamed()),
    Odd(
        "two root files",
        package(
            (CONTAINER, listing(("x.pdf", "application/pdf"), ("a b/É.xml", MEDIA_TYPE))),
            ("x.pdf", b"%PDF-1.7"),
            ("a b/É.xml", SCORE),
        ),
    ),
    Odd(
        "two scores as root files",
        package(
            (CONTAINER, listing(("score.xml", f"{MEDIA_TYPE}+xml"), ("part.xml", MEDIA_TYPE))),
            ("part.xml", PART),
            ROOT,
        ),
    ),
)

"""Plain or packed (.mxl): the score in a file's bytes, and what came with it."""

from __future__ import annotations

from reedchord.musicxml.score_file import ScoreFile, is_package, is_score_name

_RENDERING_SUFFIXES = (".pdf", ".mid", ".midi")


def open_score(data: bytes) -> ScoreFile:
    """Return the score in a file's bytes, which may be the document itself or a package.

    Raises InputError `mxl.broken`, `mxl.encrypted`, `mxl.method`, `mxl.name`,
    `mxl.duplicate`, `mxl.entries`, `mxl.size`, `mxl.ratio`, `mxl.container`, `mxl.root` and
    `mxl.nested` for packages that cannot or should not be opened.
    """
    if not is_package(data):
        return ScoreFile(data, None, ())
    from reedchord.musicxml.packing import unpacked  # most scores are plain

    return unpacked(data)


def stale_companions(file: ScoreFile) -> tuple[str, ...]:
    """Return the other scores and renderings in the package, which show the old music."""
    if file.package is None:
        return ()
    return tuple(
        name
        for name in file.package.names
        if name != file.package.root_name
        and (is_score_name(name) or name.lower().endswith(_RENDERING_SUFFIXES))
    )

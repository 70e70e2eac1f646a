"""The score that a command reads: MusicXML, or, where that is asked for, converted to it."""

from __future__ import annotations

from pathlib import Path

from reedchord.cli.target import MUSICXML_SUFFIXES
from reedchord.errors import ReedchordError, Where
from reedchord.file_endings import refused_ending
from reedchord.musicxml.score_file import ScoreFile
from reedchord.score_files import STANDARD_STREAM, read_score_file

_ROOTS = (b"<score-partwise", b"<score-timewise")
_HEAD_BYTES = 4096


def read_or_convert(score: Path, target: Path | None, *, convert: bool) -> ScoreFile:
    """Read a score file; one in another format is converted, or refused with that offer.

    Raises InputError, or RequestError where a converted score would be written under a name
    that is not MusicXML's.
    """
    file = read_score_file(score)
    if any(root in file.data[:_HEAD_BYTES] for root in _ROOTS):
        return file  # most scores are, and no other format need be known
    from reedchord.music21_bridge.conversion import converted, foreign_format, not_musicxml

    form = foreign_format(file.data)
    if form is None:
        return file
    try:
        if not convert:
            raise not_musicxml(form)
        _refuse_other_suffix(target)
        document, told = converted(file.data, form)
    except ReedchordError as error:
        raise error.at(Where(path=str(score))) from None
    return ScoreFile(document, None, (*file.notes, told))


def _refuse_other_suffix(target: Path | None) -> None:
    if target is None or str(target) == STANDARD_STREAM:
        return
    if target.suffix.casefold() not in MUSICXML_SUFFIXES:
        raise refused_ending(target, MUSICXML_SUFFIXES, "a converted score, which is MusicXML,")

"""Scores in other formats read through music21 into MusicXML: a conversion, not the score."""

from __future__ import annotations

import re
import warnings
from dataclasses import dataclass
from typing import TYPE_CHECKING

from reedchord.errors import InputError, ReedchordError

if TYPE_CHECKING:
    from music21.stream import Score

MAX_BYTES = 16 * 2**20
"""music21 needs some hundred times as much memory as a file has bytes."""

_ABC = re.compile(r"\s*(?:%[^\n]*\n\s*)*X:\s*\d+[^\n]*\n")
_TUNE = re.compile(r"^X:", re.MULTILINE)
_HUMDRUM = re.compile(r"\s*(?:!![^\n]*\n\s*)*\*\*\w+")
_MEI = re.compile(r"<(?:\w+:)?mei[\s>]")
_HEAD_BYTES = 65_536
_ID_OF_MUSIC21 = re.compile(r'(?<=")[PI][0-9a-f]{32}(?=")')
_INVENTED_BY_MUSIC21 = re.compile(
    r"\s*(?:<movement-title>Music21 Fragment</movement-title>"
    r'|<creator type="composer">Music21</creator>'
    r"|<encoding-date>[^<]*</encoding-date>)"
)


@dataclass(frozen=True)
class ForeignFormat:
    """A format that music21 reads: its name for people and its name in music21."""

    name: str
    music21_name: str
    is_sounding: bool = False
    """Whether its pitches are concert pitches whatever the instrument."""


MIDI = ForeignFormat("MIDI", "midi", is_sounding=True)
ABC = ForeignFormat("ABC", "abc")
HUMDRUM = ForeignFormat("Humdrum", "humdrum")
MEI = ForeignFormat("MEI", "mei")


def foreign_format(data: bytes) -> ForeignFormat | None:
    """Tell which other format the bytes of a file are in, None where none is recognised."""
    if data.startswith(b"MThd"):
        return MIDI
    head = _text(data[:_HEAD_BYTES])
    if head.lstrip().startswith("<"):
        return MEI if _MEI.search(head) else None
    if _ABC.match(head):
        return ABC
    return HUMDRUM if _HUMDRUM.match(head) else None


def not_musicxml(form: ForeignFormat) -> InputError:
    """Return the error of a score in another format, where nobody asked for a conversion."""
    return InputError(
        "score.other-format",
        f"this is {form.name}, not MusicXML",
        hint="`reedchord place --convert` reads it through music21 and makes MusicXML of it; or "
        "export it as MusicXML from the program that made it.",
    )


def converted(data: bytes, form: ForeignFormat) -> tuple[bytes, str]:
    """Return a score in another format as MusicXML, and a sentence that says what was done.

    Equal bytes give equal bytes. Raises InputError `convert.size`, `convert.failed`,
    `convert.several` or `xml.entity`.
    """
    if len(data) > MAX_BYTES:
        raise InputError(
            "convert.size",
            f"the file has {len(data):,} bytes, more than the limit of {MAX_BYTES:,} for "
            "a conversion",
        )
    if b"<!ENTITY" in data or "<!ENTITY" in _text(data):
        raise InputError("xml.entity", "the document declares entities, which are not followed")
    tunes = len(_TUNE.findall(_text(data))) if form is ABC else 1
    if tunes > 1:
        raise _several(tunes)
    document = _through_music21(data, form)
    told = (
        f"converted from {form.name} to MusicXML by music21: this is not the score itself, "
        "look it through"
    )
    if form.is_sounding:
        told += "; parts of transposing instruments were transposed to written pitch"
    return document, told


def _through_music21(data: bytes, form: ForeignFormat) -> bytes:
    from music21 import converter, musicxml, stream

    given = data if form is MIDI else _text(data)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            score = converter.parseData(given, format=form.music21_name)
            if isinstance(score, stream.Opus):
                raise _several(len(score.scores))
            if form.is_sounding:
                _to_written_pitch(score)
            document = musicxml.m21ToXml.GeneralObjectExporter(score).parse()
    except ReedchordError:
        raise
    except Exception as error:
        raise InputError(
            "convert.failed",
            f"music21 cannot read this as {form.name}: {' '.join(str(error).split())[:200]}",
            hint="Export it as MusicXML from the program that made it.",
        ) from error
    return _tidied(document.decode("utf-8")).encode("utf-8")


def _several(count: int) -> InputError:
    return InputError(
        "convert.several",
        f"the file holds {count} pieces",
        hint="Give a file with one of them.",
    )


def _to_written_pitch(score: Score) -> None:
    for part in score.parts:
        part.atSoundingPitch = True
        part.toWrittenPitch(inPlace=True)


def _tidied(document: str) -> str:
    """Return music21's document with ids by count and without what it made up itself."""
    names: dict[str, str] = {}
    for match in _ID_OF_MUSIC21.finditer(document):
        count = sum(name.startswith(match[0][0]) for name in names) + 1
        names.setdefault(match[0], f"{match[0][0]}{count}")
    document = _ID_OF_MUSIC21.sub(lambda match: names[match[0]], document)
    return _INVENTED_BY_MUSIC21.sub("", document)


def _text(data: bytes) -> str:
    """Return bytes as text: by byte order mark, else UTF-8, else Latin-1."""
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return data.decode("utf-16", "replace")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("latin-1")

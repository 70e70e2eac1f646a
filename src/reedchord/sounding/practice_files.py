"""A practice line as files: the score, its sound, or both in a folder."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from reedchord.errors import InputError, Where
from reedchord.file_endings import refused_ending
from reedchord.sounding.hear_files import SOUND_SUFFIXES, heard_bytes, sound_format
from reedchord.sounding.hearing import Reading
from reedchord.sounding.practice import Practice

SCORE_SUFFIX = ".musicxml"
_IN_FOLDER = (SCORE_SUFFIX, ".wav")


def practice_paths(out: Path, name: str) -> tuple[Path, ...]:
    """Return the files to write: the one that is named, or score and sound in a folder.

    A name without an ending is a folder, which is made where it is missing. Raises
    RequestError for any other ending, and InputError where the folder cannot be made.
    """
    suffix = out.suffix.casefold()
    if out.is_dir() or not suffix:
        try:
            out.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise InputError(
                "file.unwritable",
                f"the folder cannot be made: {error.strerror or error}",
                where=Where(path=str(out)),
            ) from None
        stem = name.replace(":", "-")
        return tuple(out / f"{stem}-practice{ending}" for ending in _IN_FOLDER)
    if suffix != SCORE_SUFFIX and suffix not in SOUND_SUFFIXES:
        raise refused_ending(out, (SCORE_SUFFIX, *SOUND_SUFFIXES), "practice")
    return (out,)


def practice_files(
    line: Practice, paths: tuple[Path, ...], reading: Reading, told: list[str]
) -> Iterator[tuple[Path, bytes]]:
    """Yield the bytes of each file; what the sound assumes goes to `told`."""
    for path in paths:
        if path.suffix.casefold() == SCORE_SUFFIX:
            yield path, line.score
        else:
            heard = line.hearing(reading)
            told += heard.told
            yield path, heard_bytes(heard, sound_format(path))

"""What is heard as a file: WAV and FLAC are rendered, MIDI leaves the sound to another player."""

from __future__ import annotations

from pathlib import Path

from reedchord.acoustics.sound_writing import SoundFormat, sound_bytes
from reedchord.errors import RequestError
from reedchord.file_endings import format_by_ending
from reedchord.sounding.hear_midi import midi_bytes
from reedchord.sounding.hearing import Hearing

_FORMATS = {
    ".wav": (SoundFormat.WAV,),
    ".flac": (SoundFormat.FLAC,),
    ".mid": (None,),
    ".midi": (None,),
}

LONGEST_SECONDS = 900.0
"""More takes more memory than a small computer has."""
SOUND_SUFFIXES = tuple(_FORMATS)


def sound_format(out: Path) -> SoundFormat | None:
    """Return the format that a file's ending tells, None for MIDI; raises RequestError."""
    return format_by_ending(out, _FORMATS, "sound")


def heard_bytes(hearing: Hearing, kind: SoundFormat | None) -> bytes:
    """Return a hearing as the bytes of a file; None writes MIDI.

    The same hearing gives the same bytes. Raises RequestError where MIDI has no room, and
    where it is too long to be rendered.
    """
    if kind is None:
        return midi_bytes(hearing)
    if hearing.seconds > LONGEST_SECONDS:
        raise RequestError(
            "hear.too-long",
            f"this lasts {hearing.seconds / 60:.0f} minutes, and {LONGEST_SECONDS / 60:.0f} is "
            "the most that is rendered",
            hint="Name some of the bars (--bars 10-14), or write .mid.",
        )
    from reedchord.acoustics.synthesis import rendered

    return sound_bytes(rendered(hearing.tones, peak=hearing.peak), kind)

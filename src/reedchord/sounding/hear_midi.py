"""What is heard as a MIDI file: one channel for each tone that sounds, bent to its true pitch.

The channels are announced by the MPE configuration message (RPN 6) of a lower zone, bends by
RPN 0 (MIDI Polyphonic Expression, RP-053). For players that know no MPE, every channel is told
all that it needs, and the one that General MIDI keeps for drums is taken last.
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from reedchord.acoustics.synthesis import SoundedTone
from reedchord.errors import RequestError
from reedchord.sounding.hearing import Hearing

BEND_RANGE_SEMITONES = 2
"""What receivers begin with, so that those that do not read RPN 0 are right as well."""
BEND_STEPS = 8192
TICKS_PER_QUARTER = 480
MICROSECONDS_PER_QUARTER = 500_000
MEMBERS = (*range(1, 9), *range(10, 16), 9)
"""Member channels of the zone, counted from 0, the drums of General MIDI last."""

_TICKS_PER_SECOND = TICKS_PER_QUARTER * 1_000_000 / MICROSECONDS_PER_QUARTER
_MASTER = 0
_LOUDEST_DB = -12.0
_PROGRAMS = {"sopranino": 64, "soprano": 64, "alto": 65, "C melody": 65, "tenor": 66}
"""Programs of General MIDI counted from 0; lower members take the baritone's."""
_BARITONE, _ALTO = 67, 65
_EXPRESSION = 11
_STEP_SECONDS = 0.05
"""How often a level that changes is told."""


@dataclass(frozen=True)
class Bend:
    """A key of the keyboard, and how far from it the pitch is bent, in steps of 14 bits."""

    key: int
    steps: int


def bend(frequency_hz: float) -> Bend:
    """Return the nearest key and the bend: key = 69 + 12 · log2(f / 440) (MIDI Tuning Standard).

    The bend is rounded to a step of 200 / 8192 = 0.024 cents. Raises RequestError where there
    is no such key.
    """
    semitones = 69 + 12 * math.log2(frequency_hz / 440)
    key = round(semitones)
    if not 0 <= key <= 127:
        raise RequestError("hear.midi-key", f"{frequency_hz:g} Hz lies outside the keys of MIDI")
    return Bend(key, round((semitones - key) * BEND_STEPS / BEND_RANGE_SEMITONES))


def midi_bytes(hearing: Hearing) -> bytes:
    """Return a Standard MIDI File of format 0; the same hearing gives the same bytes.

    Raises RequestError where more tones sound at once than there are channels.
    """
    import mido

    tones = sorted(hearing.tones, key=lambda tone: (tone.onset_seconds, tone.frequency_hz))
    channels = _channels(tones)
    loudest_db = max(tone.level_db for tone in tones)
    timed = [
        message
        for tone, channel in zip(tones, channels, strict=True)
        for message in _tone(tone, channel, tone.level_db - loudest_db - hearing.below_loudest_db)
    ]
    timed.sort(key=lambda entry: entry[:2])
    track = mido.MidiTrack()
    track.append(
        mido.MetaMessage("track_name", name=hearing.title.encode("ascii", "replace").decode())
    )
    track.append(mido.MetaMessage("set_tempo", tempo=MICROSECONDS_PER_QUARTER))
    track += [mido.Message(**fields) for fields in _set_up(hearing, sorted(set(channels)))]
    now = 0
    for ticks, _, fields in timed:
        track.append(mido.Message(**fields, time=ticks - now))
        now = ticks
    file = mido.MidiFile(type=0, ticks_per_beat=TICKS_PER_QUARTER, tracks=[track])
    stream = io.BytesIO()
    file.save(file=stream)
    return stream.getvalue()


def _set_up(hearing: Hearing, channels: Sequence[int]) -> Iterator[dict[str, Any]]:
    """Yield what stands before the notes: the zone, and for each channel bend range and sound."""
    yield from _parameter(_MASTER, 6, len(MEMBERS))
    name = hearing.saxophone.name if hearing.saxophone else None
    program = _PROGRAMS.get(name, _BARITONE) if name else _ALTO
    for channel in (_MASTER, *channels):
        yield from _parameter(channel, 0, BEND_RANGE_SEMITONES)
        yield {"type": "program_change", "channel": channel, "program": program}


def _parameter(channel: int, number: int, amount: int) -> Iterator[dict[str, Any]]:
    """Yield the control changes that set a registered parameter, and close it again."""
    for control, setting in ((101, 0), (100, number), (6, amount), (38, 0), (101, 127), (100, 127)):
        yield _control(channel, control, setting)


def _control(channel: int, control: int, setting: int) -> dict[str, Any]:
    return {"type": "control_change", "channel": channel, "control": control, "value": setting}


def _channels(tones: Sequence[SoundedTone]) -> list[int]:
    """Return a channel for each tone, the one that has been silent for longest."""
    free_from = dict.fromkeys(MEMBERS, 0.0)
    chosen = []
    for tone in tones:
        silent = [one for one in MEMBERS if free_from[one] <= tone.onset_seconds + 1e-6]
        if not silent:
            raise RequestError(
                "hear.midi-channels",
                f"at {tone.onset_seconds:.1f} seconds more than {len(MEMBERS)} tones sound at "
                "once, and each needs a MIDI channel of its own",
                hint="Name fewer parts with --part, leave the others out with --alone, or write "
                ".wav.",
            )
        usual = [one for one in silent if one != MEMBERS[-1]]
        channel = min(usual or silent, key=lambda one: free_from[one])
        free_from[channel] = tone.onset_seconds + tone.duration_seconds
        chosen.append(channel)
    return chosen


_Timed = tuple[int, int, dict[str, Any]]
"""Ticks from the start, the order at one moment (notes end before others begin), the message."""


def _tone(tone: SoundedTone, channel: int, level_db: float) -> Iterator[_Timed]:
    bent = bend(tone.frequency_hz)
    start, end = _ticks(tone.onset_seconds), _ticks(tone.onset_seconds + tone.duration_seconds)
    note = {"channel": channel, "note": bent.key}
    yield start, 1, {"type": "pitchwheel", "channel": channel, "pitch": bent.steps}
    for seconds, more_db in _levels(tone):
        moment = _ticks(tone.onset_seconds + seconds)
        yield moment, 1, _control(channel, _EXPRESSION, _controller(more_db))
    velocity = _controller(_LOUDEST_DB + level_db)
    yield start, 2, {"type": "note_on", "velocity": velocity, **note}
    yield max(end, start + 1), 0, {"type": "note_off", "velocity": 0, **note}


def _levels(tone: SoundedTone) -> Iterator[tuple[float, float]]:
    """Yield seconds after the onset and the level there, against the loudest of the course."""
    if not tone.course:
        yield 0.0, 0.0
        return
    import numpy as np

    moments, levels_db = zip(*tone.course, strict=True)
    for seconds in np.arange(0.0, tone.duration_seconds, _STEP_SECONDS):
        yield float(seconds), float(np.interp(seconds, moments, levels_db))


def _controller(level_db: float) -> int:
    """Return 127 · 10^(dB / 40): gain is the square of a controller (DLS 1; from memory)."""
    return max(1, min(127, round(127 * 10 ** (level_db / 40))))


def _ticks(seconds: float) -> int:
    return round(seconds * _TICKS_PER_SECOND)

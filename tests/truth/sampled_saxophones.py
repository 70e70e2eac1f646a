"""Real saxophone notes as two Debian packages carry them, with the pitch that their makers state.

`fluid-soundfont-gm` (MIT) holds SoundFont 2.01 chunks: sample headers `shdr`, and zones of
instruments (`inst`, `ibag`, `igen`) with root key (generator 58) and tuning (51 semitones, 52
cents) that bring the sample to pitch. `freepats` holds Gravis patches: a header of 129 bytes, then
63, 47 and 96 bytes for instrument, layer and sample (format from the packages' own files).
"""

from __future__ import annotations

import math
import struct
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from pathlib import Path

import numpy as np

SOUND_FONT = Path("/usr/share/sounds/sf2/FluidR3_GM.sf2")
PATCHES = Path("/usr/share/midi/freepats/Tone_000")
MEMBERS = ("Soprano", "Alto", "Tenor", "Baritone")
_ROOT_KEY, _COARSE, _FINE, _SAMPLE = 58, 51, 52, 53


@dataclass(frozen=True)
class SampledNote:
    """One note: mono samples from -1 to 1, where its loop lies, and its stated pitch."""

    member: str
    name: str
    samples: np.ndarray
    loop: tuple[int, int]
    rate_hz: int
    label_cents: float

    def lasting(self, seconds: float) -> np.ndarray:
        """Return the note for so long, its loop repeated as a sampler does."""
        wanted = round(seconds * self.rate_hz)
        start, end = self.loop
        if len(self.samples) >= wanted:
            return self.samples[:wanted]
        times = max(0, wanted - end) // (end - start) + 2
        looped = np.concatenate([self.samples[:end], np.tile(self.samples[start:end], times)])
        return looped[:wanted]


@cache
def sound_font_notes() -> tuple[SampledNote, ...]:
    """Return the left channels of the sound font's saxophones, the lowest first of each."""
    with SOUND_FONT.open("rb") as stream:
        found = dict(_chunks(stream, 12, SOUND_FONT.stat().st_size))
        table = {name: _bytes(stream, found[name]) for name in ("inst", "ibag", "igen", "shdr")}
        headers = list(struct.iter_unpack("<20sIIIIIBbHH", table["shdr"]))
        notes = {}
        for zone in _zones(table):
            name, start, end, *loop, rate, key, _, _, _ = headers[zone[_SAMPLE]]
            words = name.split(b"\0")[0].decode("latin-1")
            if not words.startswith(MEMBERS) or not words.endswith("(L)"):
                continue
            tuning = 100 * zone.get(_COARSE, 0) + zone.get(_FINE, 0)
            stream.seek(found["smpl"][0] + 2 * start)
            pcm = np.frombuffer(stream.read(2 * (end - start)), "<i2") / 32768
            notes[words] = SampledNote(
                words.split()[0],
                words,
                pcm,
                (loop[0] - start, loop[1] - start),
                rate,
                100.0 * zone.get(_ROOT_KEY, key) - tuning,
            )
    return tuple(sorted(notes.values(), key=lambda note: (note.member, note.label_cents)))


def _chunks(stream, start, end):
    """Yield the name and place of each chunk of data, those within lists too."""
    while start + 8 <= end:
        stream.seek(start)
        name, size = struct.unpack("<4sI", stream.read(8))
        if name == b"LIST":
            yield from _chunks(stream, start + 12, start + 8 + size)
        else:
            yield name.decode("latin-1"), (start + 8, size)
        start += 8 + size + size % 2


def _bytes(stream, place):
    stream.seek(place[0])
    return stream.read(place[1])


def _zones(table):
    """Yield the generators of each instrument's zones that play a sample, defaults filled in."""
    bags = [bag for bag, _ in struct.iter_unpack("<HH", table["ibag"])]
    rows = list(struct.iter_unpack("<Hh", table["igen"]))
    firsts = [first for _, first in struct.iter_unpack("<20sH", table["inst"])]
    for first, after in pairwise(firsts):
        common = {}
        for bag in range(first, after):
            zone = dict(rows[bags[bag] : bags[bag + 1]])
            if _SAMPLE in zone:
                yield {**common, **zone}
            elif bag == first:
                common = zone


@cache
def patch_notes() -> tuple[SampledNote, ...]:
    """Return the notes of the patches that last long enough to be somebody's saxophone."""
    notes = []
    for number, member in enumerate(MEMBERS, 64):
        data = (PATCHES / f"{number:03}_{member}_Sax.pat").read_bytes()
        at = 129 + 63 + 47
        for _ in range(data[198]):
            name, _, size, start, end, rate, _, _, root = struct.unpack_from(
                "<7sBIIIHIII", data, at
            )
            pcm = np.frombuffer(data, "<i2", size // 2, at + 96) / 32768
            cents = 6900 + 1200 * math.log2(root / 440_000)
            words = name.split(b"\0")[0].decode("latin-1")
            if end - start >= 200:
                loop = (start // 2, end // 2)
                notes.append(SampledNote(member, words, pcm, loop, rate, cents))
            at += 96 + size
    return tuple(notes)

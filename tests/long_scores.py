"""A placed score with many invented sonorities, some of them with all that is hard to print."""

from __future__ import annotations

from reedchord.collection import Collection
from reedchord.placement.place import place
from reedchord.sonority import Sonority
from samples import BITTERN, at, note, score, sonority

_FINGERINGS = (
    "left 1 2 3, G sharp | right 1 2 3, low C",
    "octave | left half 1 2, palm E flat, low C sharp | right 1 slightly 2 3, side B flat, E flat",
    "left 0 | right 0",
    "octave | L 123, bis, front F, palm D, palm Eb, palm F, low Bb | R 1 half 2 3, side C, low C",
)
_TONES = ("E4-19", "Bb4+14", "G#5-12", "C6+31", "Eb6-40", "G6+7", "A6-22")
_LIMITS = (
    {"articulation": "single tongue", "fastest": "16th at quarter = 72", "dynamics": "mp-f"},
    {"articulation": "slap", "fastest": "eighth at quarter = 66"},
)


def reed(number: int) -> Sonority:
    """Return a sonority of two to seven tones; every third has one emphasised."""
    source = {"id": "reedbed", "page": number, "entry": BITTERN.source.entry}
    return sonority(
        f"reed-{number}",
        *_TONES[: 2 + number % 6],
        fingering=_FINGERINGS[number % 4],
        emphasised=None if number % 3 else 2,
        limits=_LIMITS if number % 2 else (),
        source=source,
    )


def long_score(count: int) -> bytes:
    """Return a score with one sonority a bar; the first stands in every bar once more."""
    reeds = [reed(number) for number in range(1, count + 1)]
    collection = Collection({record.id: record for record in reeds}, {}, "reeds")
    title = "<work><work-title>Low Water &amp; Reeds</work-title></work>"
    bars = [note() * 4 for _ in reeds]
    placements = [at(bar, 1, record.id) for bar, record in enumerate(reeds, start=1)]
    placements += [at(bar, 3, "reed-1") for bar in range(1, count + 1)]
    return place(score(*bars, header=title), placements, collection).data

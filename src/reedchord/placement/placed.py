"""One placement as it was made."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from reedchord.pitch import Pitch
from reedchord.placement.appearance import Sounding
from reedchord.placement.plan import Placement
from reedchord.placement.target import Target
from reedchord.sonority import Sonority


class PlacedChord(NamedTuple):
    """One written chord of a placement: its bar's index, its time and its pitches."""

    bar_index: int
    onset_quarters: Fraction
    quarters: Fraction
    pitches: tuple[Pitch, ...]


class PlacedSonority(NamedTuple):
    """A sonority at its place, with its label in the score and the tones that are wanted."""

    label: str
    is_first: bool
    sonority: Sonority
    sounding: Sounding
    placement: Placement
    target: Target
    chords: tuple[PlacedChord, ...]
    """Its chords as they are written, tied where tones go on."""
    other: Sonority | None = None
    """The sonority that takes turns with it in a tremolo or trill, with its own label."""
    other_label: str | None = None

    @property
    def sonorities(self) -> tuple[Sonority, ...]:
        """The sonority, and the one that takes turns with it, if any."""
        return (self.sonority,) if self.other is None else (self.sonority, self.other)

    @property
    def noteheads(self) -> int:
        """How many noteheads it has, all ties counted."""
        return sum(len(chord.pitches) for chord in self.chords)

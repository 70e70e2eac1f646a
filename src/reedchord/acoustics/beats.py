"""Beats between two notes: in unison, or where partials of the one lie near those of the other."""

from __future__ import annotations

import math
from dataclasses import dataclass

CENTS_PER_OCTAVE = 1200


@dataclass(frozen=True)
class Interval:
    """A pure interval: partial `low_partial` of the lower note is `high_partial` of the upper.

    Two notes count as near it within `near_cents`.
    """

    name: str
    low_partial: int
    high_partial: int
    near_cents: float

    @property
    def cents(self) -> float:
        """Its width in cents: 1200 · log2(low_partial / high_partial)."""
        return CENTS_PER_OCTAVE * math.log2(self.low_partial / self.high_partial)

    def beats_per_second(self, low_hz: float, high_hz: float) -> float:
        """Return |low_partial · f_low - high_partial · f_high|, in beats a second.

        The two nearest partials beat at the difference of their frequencies (Helmholtz, On
        the Sensations of Tone, part II; from memory).
        """
        return abs(self.low_partial * low_hz - self.high_partial * high_hz)


INTERVALS = (
    Interval("unison", 1, 1, 100),
    Interval("octave", 2, 1, 50),
    Interval("fifth", 3, 2, 50),
    Interval("twelfth", 3, 1, 50),
    Interval("two octaves", 4, 1, 50),
)
"""What is looked at: a semitone around the unison, a quarter tone around the others.

Their first common partials are strong in wind instruments (common practice, no source).
"""


@dataclass(frozen=True)
class Beating:
    """Two notes near a pure interval.

    `cents` tells how far the second lies above its pure place over, or under, the first: there
    they would not beat.
    """

    interval: Interval
    cents: float
    beats_per_second: float


def beating(
    first_hz: float, second_hz: float, *, within_cents: float | None = None
) -> Beating | None:
    """Return how two notes beat, None where they lie near none of the intervals.

    `within_cents` takes the place of what the table says for each interval.
    """
    low_hz, high_hz = sorted((first_hz, second_hz))
    width = CENTS_PER_OCTAVE * math.log2(high_hz / low_hz)
    for interval in INTERVALS:
        too_wide = width - interval.cents
        near = interval.near_cents if within_cents is None else within_cents
        if abs(too_wide) <= near + 1e-9:
            cents = too_wide if second_hz >= first_hz else -too_wide
            return Beating(interval, cents, interval.beats_per_second(low_hz, high_hz))
    return None

"""One placement as it was made."""

from __future__ import annotations

from dataclasses import dataclass

from reedchord.placement.appearance import Sounding
from reedchord.placement.plan import Placement
from reedchord.placement.target import Target
from reedchord.sonority import Sonority


@dataclass(frozen=True)
class PlacedSonority:
    """A sonority at its place, with its label in the score and the tones that are wanted."""

    label: str
    is_first: bool
    sonority: Sonority
    sounding: Sounding
    placement: Placement
    target: Target

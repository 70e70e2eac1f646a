"""How sonorities look in one score: one style for the whole of it."""

from enum import StrEnum

from pydantic import Field

from reedchord.chord_spelling import Grid
from reedchord.record_fields import Record


class Manner(StrEnum):
    """How a sonority is played."""

    ORDINARY = "ordinary"
    SLAP = "slap"
    VERY_SOFT = "very soft"


class Shown(StrEnum):
    """Where something is printed: at a sonority's first place in the score, or more, or less."""

    FIRST = "first"
    ALWAYS = "always"
    NEVER = "never"


class Sourced(StrEnum):
    """Where the source of a sonority is printed."""

    FIRST = "first"
    ALWAYS = "always"
    NEVER = "never"
    LEGEND = "legend"


class Marking(StrEnum):
    """How tones that are not emphasised stand back behind the one that is."""

    GREY = "grey"
    DIAMOND = "diamond"
    NONE = "none"


class Style(Record):
    """How sonorities look in a score."""

    grid: Grid = Field(default=Grid.QUARTER, strict=False)
    """Finest accidental: `quarter` tones, or `semitone` for readers without quarter tones."""
    cents: Shown = Field(default=Shown.FIRST, strict=False)
    """Where the cents that the accidentals leave over are printed."""
    fingering: Shown = Field(default=Shown.FIRST, strict=False)
    """Where the fingering is printed."""
    source: Sourced = Field(default=Sourced.FIRST, strict=False)
    """Where the source is printed in brief: at the label, or in a `legend` in the last bar of
    the part, with the fingerings; the whole of it is always in the footnote."""
    marking: Marking = Field(default=Marking.GREY, strict=False)
    """Noteheads of tones that are not emphasised."""


USUAL = Style.model_construct()
"""The style of a score for which nobody asked for another."""

"""What a check finds: a stable code, a sentence for a composer, the place, what would mend it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    """How bad a finding is, worst first."""

    ERROR = "error"
    """It cannot be played or read as it stands."""
    WARNING = "warning"
    """It may fail: ask the player, or change it."""
    NOTE = "note"
    """Something that is not known, or was assumed."""

    @property
    def rank(self) -> int:
        """0 the worst."""
        return tuple(Severity).index(self)


@dataclass(frozen=True)
class Spot:
    """Where a finding stands, as the score calls it; what is not known is left out.

    `bar_index` counts from 0; `label` is that of the sonority; `onset_quarters` is the
    moment in the bar, in quarter notes, as text.
    """

    part_id: str | None = None
    part: str | None = None
    bar_index: int | None = None
    bar: str | None = None
    beat: str | None = None
    label: str | None = None
    onset_quarters: str | None = None

    def __str__(self) -> str:
        named = (("part", self.part), ("bar", self.bar), ("beat", self.beat), ("", self.label))
        words = [f"{name} {text}".strip() for name, text in named if text]
        return ", ".join(words) or "the score"


@dataclass(frozen=True)
class Remedy:
    """What would mend a finding.

    `swap_to` is the id of a sonority to put there instead: at the finding's place, or at
    `spot`.
    """

    words: str
    swap_to: str | None = None
    spot: Spot | None = None


@dataclass(frozen=True)
class Finding:
    """One thing that a rule found."""

    code: str
    severity: Severity
    sentence: str
    spot: Spot
    remedies: tuple[Remedy, ...] = ()

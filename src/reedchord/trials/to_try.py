"""A list of fingerings to be tried, as a file to be filled in: what came makes it a record.

A record needs tones, and before a trial nobody knows any; so the list is a format of its own.
"""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from reedchord.errors import InputError
from reedchord.record_fields import (
    DynamicRangeField,
    FingeringField,
    Record,
    Rows,
    SaxophoneField,
    ToneReferenceField,
    record_error,
)
from reedchord.sonority_fields import ArticulationField, Limit, Tone
from reedchord.source import Key, Text
from reedchord.trials.trial_fields import Outcome, OutcomeField


class ToTryEntry(Record):
    """One fingering; it becomes a record as soon as a tone is filled in."""

    id: Key
    """Key that the record will have."""
    fingering: FingeringField
    """Keys that are down."""
    change: Text | None = None
    """What leads to it from the start."""
    name: Text | None = None
    """A name for people."""
    tones: Annotated[Rows[Tone], Field(max_length=12)] = ()
    """What sounded, the lowest tone first; empty until it was tried."""
    emphasised: ToneReferenceField | None = None
    """Tone that can be brought out."""
    dynamics: DynamicRangeField | None = None
    """Dynamics at which it spoke."""
    limits: Rows[Limit] = ()
    """Fastest rhythms that were managed."""
    advice: Text | None = None
    """What helped it to speak."""
    outcome: OutcomeField | None = None
    """Whether it spoke, spoke after a try, or did not speak; with tones it spoke."""
    attack: ArticulationField | None = None
    """Way of attack in which it was tried."""

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        if self.tones and self.outcome is Outcome.DID_NOT_SPEAK:
            message = "it did not speak, and yet a tone came"
            raise record_error(InputError("trial.contradiction", message))
        return self


class ToTryFile(Record):
    """A file of fingerings to be tried on one saxophone."""

    reedchord: Literal["to-try"]
    """Says what the file is."""
    version: Literal[1]
    """Version of this format."""
    saxophone: SaxophoneField
    """Member of the family."""
    start: Text | None = None
    """What was started from: a written note, a sonority or a fingering."""
    note: Text | None = None
    """Anything a reader must know about the list."""
    fingerings: Rows[ToTryEntry] = ()
    """The fingerings, in the order in which to try them."""

"""The fields of a trial: what one set-up got from one sonority, on one day."""

from __future__ import annotations

import datetime
import re
from enum import StrEnum
from typing import Annotated, Any, Literal, Self

from pydantic import (
    AfterValidator,
    BeforeValidator,
    Field,
    PlainSerializer,
    WithJsonSchema,
    model_validator,
)

from reedchord.errors import InputError, did_you_mean
from reedchord.record_fields import (
    DynamicRangeField,
    PitchField,
    Record,
    Rows,
    ToneReferenceField,
    record_error,
)
from reedchord.sonority_fields import ArticulationField, Limit
from reedchord.source import Key, Text


class Outcome(StrEnum):
    """What came of an attempt."""

    SPOKE = "spoke"
    AFTER_A_TRY = "spoke after a try"
    DID_NOT_SPEAK = "did not speak"

    @property
    def spoke(self) -> bool:
        """Whether it spoke at all."""
        return self is not Outcome.DID_NOT_SPEAK


OUTCOMES = tuple(str(outcome) for outcome in Outcome)
"""What can come of an attempt, in words for a sheet."""


def outcome_named(text: Any) -> Any:
    """Return the outcome with this name, `after a try` for short; raises InputError else."""
    if not isinstance(text, str):
        return text
    plain = " ".join(text.casefold().split())
    plain = {"after a try": Outcome.AFTER_A_TRY, "did not": Outcome.DID_NOT_SPEAK}.get(plain, plain)
    if plain not in list(Outcome):
        hint = did_you_mean(plain, Outcome)
        raise InputError("trial.outcome", f"{text!r} is no outcome of a trial", hint=hint)
    return Outcome(plain)


def _read_outcome(given: Any) -> Any:
    try:
        return outcome_named(given)
    except InputError as error:
        raise record_error(error) from None


OutcomeField = Annotated[
    Outcome, BeforeValidator(_read_outcome), WithJsonSchema({"enum": list(Outcome)})
]


_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")


def _day(text: str) -> str:
    hint = "Write year, month, day: 2031-11-25."
    if _DAY.fullmatch(text):
        try:
            return datetime.date.fromisoformat(text).isoformat()
        except ValueError:
            pass
    raise record_error(InputError("trial.date", f"{text!r} is no day", hint=hint))


Day = Annotated[Text, AfterValidator(_day), WithJsonSchema({"type": "string", "format": "date"})]


Cents = Annotated[
    float,
    Field(ge=0, le=600),
    PlainSerializer(lambda cents: int(cents) if cents == int(cents) else cents),
]


class TrialTone(Record):
    """One tone in a trial: whether it came, at which dynamics, and where it was measured."""

    tone: ToneReferenceField | None = None
    """Tone of the record, by number or written pitch; left out for one that it does not have."""
    came_at: Rows[DynamicRangeField] | None = None
    """Dynamics at which it came; an empty list where it did not come at all."""
    measured: PitchField | None = None
    """Written pitch that was measured."""
    uncertainty_cents: Cents | None = None
    """How far the measured pitch may be off, in cents."""

    @model_validator(mode="after")
    def _says_something(self) -> Self:
        if self.tone is None and self.measured is None:
            raise record_error(
                InputError(
                    "trial.tone",
                    "the entry names no tone",
                    hint="Give tone, or, for a tone that the record does not have, measured.",
                )
            )
        return self

    @property
    def came(self) -> bool:
        """Whether it came at any dynamic."""
        return self.came_at is None or bool(self.came_at)

    @property
    def marks(self) -> frozenset[str]:
        """The dynamic marks at which it came."""
        return frozenset(mark for marks in self.came_at or () for mark in marks.marks())


class Trial(Record):
    """What one set-up got from one sonority, on one day, in one way of playing."""

    date: Day
    """The day: 2031-11-25."""
    sonority: Key
    """Id of the sonority."""
    set_up: Key | None = None
    """Id of the set-up, where the log does not name one for all."""
    attack: ArticulationField | None = None
    """Way of attack."""
    outcome: OutcomeField
    """Whether it spoke, spoke after a try, or did not speak."""
    dynamics: DynamicRangeField | None = None
    """Dynamics at which it was tried; a listed tone that did not come there was not heard."""
    tones: Rows[TrialTone] = ()
    """Tones that somebody listened for; nothing is said of those left out."""
    limits: Rows[Limit] = ()
    """Fastest rhythms that were managed."""
    remarks: Text | None = None
    """Anything else."""
    takes: Rows[Text] = ()
    """File names of recordings."""

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        if not self.outcome.spoke:
            for said, what in (
                (self._any_came, "a tone came"),
                (bool(self.limits), "a speed was managed"),
            ):
                if said:
                    message = f"it did not speak, and yet {what}"
                    raise record_error(InputError("trial.contradiction", message))
        return self

    @property
    def _any_came(self) -> bool:
        return any(tone.came for tone in self.tones)


class TrialsFile(Record):
    """A log of trials."""

    reedchord: Literal["trials"]
    """Says what the file is."""
    version: Literal[1]
    """Version of this format."""
    set_up: Key | None = None
    """Id of the set-up of all trials that do not name another."""
    title: Text | None = None
    """A title for people."""
    note: Text | None = None
    """Anything a reader must know about the log."""
    trials: Annotated[
        Rows[Trial], BeforeValidator(lambda given: () if given is None else given)
    ] = ()
    """The trials, in any order; days tell which is later, and then the order in the log."""

"""A set-up: one player with one instrument, mouthpiece, reed and ligature."""

from __future__ import annotations

import os
from typing import Annotated, Literal

from pydantic import BeforeValidator, Field, WithJsonSchema

from reedchord.errors import ReedchordError, SeveralErrors
from reedchord.own_file import read_own_file
from reedchord.record_fields import Record, SaxophoneField
from reedchord.source import Key, Text

Line = Annotated[Text, Field(max_length=200)]
"""So short that all of a set-up fits into the field of a record."""

Equipment = Annotated[
    Line,
    # `reed: 2.5` is a number to YAML, and the name of a strength to players.
    BeforeValidator(lambda given: str(given) if type(given) in (int, float) else given),
    WithJsonSchema({"type": ["string", "number"], "minLength": 1, "maxLength": 200}),
]
"""What a player calls a part of the equipment."""

SET_UP_FIELDS = ("Player", "Date", "Instrument", "Mouthpiece", "Reed", "Ligature")
"""What is written once at the head of a sheet."""

EXAMPLE = """The least that a set-up says, line by line:
    reedchord: set-up
    version: 1
    id: mine
    player: A. B.
    saxophone: alto"""


class SetUpFile(Record):
    """The file of one set-up."""

    reedchord: Literal["set-up"]
    """Says what the file is."""
    version: Literal[1]
    """Version of this format."""
    id: Key
    """Key by which logs of trials name this set-up."""
    player: Line
    """Who plays, in any words; initials are enough."""
    saxophone: SaxophoneField
    """Member of the family."""
    instrument: Equipment | None = None
    """Maker and model of the instrument, as the player says it."""
    mouthpiece: Equipment | None = None
    """Mouthpiece, as the player says it."""
    reed: Equipment | None = None
    """Reed and its strength."""
    ligature: Equipment | None = None
    """Ligature."""
    remarks: Text | None = None
    """Anything else that may matter: the room, a leak, a habit."""

    def fields(self) -> dict[str, str]:
        """Return what the head of a sheet says, by its headings; the day is empty."""
        instrument = f"{self.saxophone}{f', {self.instrument}' if self.instrument else ''}"
        said = (self.player, None, instrument, self.mouthpiece, self.reed, self.ligature)
        return {field: words or "" for field, words in zip(SET_UP_FIELDS, said, strict=True)}

    def words(self) -> str:
        """Return player and equipment in one line."""
        said = (
            ("", self.player),
            ("", f"{self.saxophone}{f' {self.instrument}' if self.instrument else ''}"),
            ("mouthpiece ", self.mouthpiece),
            ("reed ", self.reed),
            ("ligature ", self.ligature),
        )
        return ", ".join(f"{before}{words}" for before, words in said if words)


def read_set_up(path: str | os.PathLike[str]) -> SetUpFile:
    """Read the file of a set-up.

    Raises InputError or SeveralErrors with line and field, and an example of such a file once.
    """
    try:
        return read_own_file(SetUpFile, path, "a set-up").record
    except ReedchordError as error:
        last = error.errors[-1] if isinstance(error, SeveralErrors) else error
        last.hint = "\n  ".join([*([last.hint] if last.hint else []), EXAMPLE])
        raise

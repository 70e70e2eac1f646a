"""The format of a file of wishes: a row of harmonies or notes, and who may play them."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, GetJsonSchemaHandler, WithJsonSchema
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema

from reedchord.placement.plan import NumberText
from reedchord.record_fields import Record, Rows, SaxophoneField
from reedchord.saxophones import FAMILY
from reedchord.source import Key, Text

FORMAT = "wishes"
VERSION = 1


def _joined(given: Any) -> Any:
    """Return pitches as one text, where they stand as a list."""
    if isinstance(given, list) and all(isinstance(one, str) for one in given):
        return ", ".join(given)
    return given


PitchesText = Annotated[
    Text,
    BeforeValidator(_joined),
    WithJsonSchema(
        {
            "anyOf": [
                {"type": "string", "minLength": 1, "maxLength": 2000},
                {"type": "array", "items": {"type": "string"}, "minItems": 1},
            ],
            "examples": ["F4 A5-20", ["F4", "A5-20"]],
        }
    ),
]


class WishFields(Record):
    """What a wish can say; `each` says it for all wishes that do not say it themselves."""

    concert: PitchesText | None = None
    """Concert pitches wished."""
    written: PitchesText | None = None
    """Written pitches wished, instead."""
    emphasised: Text | None = None
    """Pitch that is to stand out."""
    pitch_class: bool | None = None
    """Whether octaves do not count."""
    interval: NumberText | None = None
    """Semitones, each between some two tones: `7 10.5`."""
    highest: Text | None = None
    """Pitch of the highest tone."""
    lowest: Text | None = None
    """Pitch of the lowest tone."""
    tones: int | None = None
    """Number of tones that sound."""
    within: NumberText | None = None
    """Furthest that a tone lies from a wish, in cents; 50 where it is left out."""
    avoid: PitchesText | None = None
    """Concert pitches of others that no tone may beat with."""
    avoid_within: NumberText | None = None
    """How near a tone may not come to them, in cents; 50 where it is left out."""
    at: Text | None = None
    """Dynamic mark at which the wished tones are heard."""
    articulation: Text | None = None
    """How it is articulated: `single tongue`, `slap`, `slur`."""
    speed: Text | None = None
    """How fast it is repeated, `eighth at quarter = 96`, where not once in its length."""
    evidence: Text | None = None
    """Weakest evidence to accept."""
    lasts: Text | None = None
    """How long it sounds: `half`, `quarter.`, `whole + half` or `3/8` of a whole note."""
    rest: Text | None = None
    """Silence that follows, as a length."""
    overlap: Text | None = None
    """How long it still sounds when the next one begins, as a length."""
    tempo: NumberText | None = None
    """Metronome mark, `quarter = 72`, or quarters a minute; it holds from here on."""


class WishRecord(WishFields):
    """One wish of the row."""

    sonority: Key | None = None
    """Sonority that must stand here."""
    player: Text | None = None
    """Name of the player who must have it."""
    bar: NumberText | None = None
    """Bar of the score, for the plan."""
    beat: NumberText | None = None
    """Beat in the bar, for the plan; 1 where it is left out."""


class PlayerRecord(Record):
    """A player of the section."""

    saxophone: SaxophoneField
    """The player's saxophone."""
    name: Text | None = None
    """Name of the player; the part, or else the saxophone, where it is left out."""
    part: Text | None = None
    """The part's id or name, for the plan."""


def _with_fields(given: Any) -> Any:
    """Return a player's fields, where the saxophone alone was written."""
    return {"saxophone": given} if isinstance(given, str) else given


class _OrSaxophone:
    """Tells the schema of a player that the saxophone alone will do."""

    def __get_pydantic_json_schema__(
        self, core_schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        alone = {"type": "string", "enum": list(FAMILY)}
        return {"anyOf": [alone, handler(core_schema)]}


PlayerField = Annotated[PlayerRecord, BeforeValidator(_with_fields), _OrSaxophone()]


class WishesFile(Record):
    """A row of wishes, in the order in which they begin."""

    reedchord: Literal["wishes"]
    """Says what the file is."""
    version: Literal[1]
    """Version of this format."""
    title: Text | None = None
    """A title for people."""
    note: Text | None = None
    """Anything a reader must know about the file."""
    collection: Text | None = None
    """The collection's file or folder, from where this file stands."""
    players: Rows[PlayerField] = ()
    """Who may play; one player of any one saxophone where it is left out."""
    forbidden: Rows[Key] = ()
    """Sonorities that are not to be used."""
    each: WishFields = Field(default_factory=WishFields)
    """What holds for every wish that does not say otherwise."""
    wishes: Annotated[Rows[WishRecord], Field(min_length=1, max_length=500)]
    """The wishes, in the order in which they begin."""

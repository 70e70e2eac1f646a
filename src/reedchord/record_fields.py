"""How pitches, fingerings, speeds and dynamics stand as text in a record's fields."""

import re
from collections.abc import Callable
from typing import Annotated, Any, TypeVar

from pydantic import (
    BaseModel,
    ConfigDict,
    Field,
    PlainSerializer,
    PlainValidator,
    WithJsonSchema,
)
from pydantic_core import PydanticCustomError, PydanticKnownError

from reedchord.dynamics import (
    DynamicCourse,
    DynamicRange,
    parse_dynamic_course,
    parse_dynamic_range,
)
from reedchord.errors import InputError, ReedchordError
from reedchord.fingering import Fingering
from reedchord.lasting import End, Lasting, Length, parse_lasting, parse_length
from reedchord.pitch import Pitch, parse_pitch
from reedchord.rhythm import Rate, parse_rate
from reedchord.saxophones import FAMILY, Saxophone, saxophone


class Record(BaseModel):
    """A frozen, strict record: no unknown field, no silent conversion."""

    model_config = ConfigDict(
        frozen=True, extra="forbid", strict=True, allow_inf_nan=False, defer_build=True
    )


_T = TypeVar("_T")

Rows = Annotated[tuple[_T, ...], Field(strict=False)]
"""A list in a file, a tuple in a record."""


def record_error(error: ReedchordError) -> PydanticCustomError:
    """Return one of our errors as pydantic's, so that it is reported with its field."""
    text = error.message if error.hint is None else f"{error.message}\n  {error.hint}"
    context = {"text": text, "message": error.message, "hint": error.hint}
    return PydanticCustomError(error.code, "{text}", context)


def _read_as(kind: type[_T] | tuple[type[_T], ...], parse: Callable[[str], _T]) -> PlainValidator:
    def read(given: Any) -> _T:
        if isinstance(given, kind):
            return given
        if not isinstance(given, str):
            raise PydanticKnownError("string_type")
        try:
            return parse(given)
        except ReedchordError as error:
            raise record_error(error) from None

    return PlainValidator(read)


_AS_TEXT = PlainSerializer(str, return_type=str)


def _schema(description: str, *examples: str, **more: Any) -> WithJsonSchema:
    shown = {"examples": list(examples)} if examples else {}
    return WithJsonSchema({"type": "string", "description": description, **shown, **more})


PitchField = Annotated[
    Pitch,
    _read_as(Pitch, parse_pitch),
    _AS_TEXT,
    _schema("Scientific pitch notation with cents; middle C is C4.", "G5+31", "Bb3", "Fqs4-3"),
]


def _parse_fingering(text: str) -> Fingering:
    from reedchord.fingering_text import parse_fingering

    return parse_fingering(text)


FingeringField = Annotated[
    Fingering,
    _read_as(Fingering, _parse_fingering),
    _AS_TEXT,
    _schema("Keys by plain names.", "octave | left 1 2 3, G sharp | right 1 half 2, low C"),
]
RateField = Annotated[
    Rate,
    _read_as(Rate, parse_rate),
    _AS_TEXT,
    _schema("A note value at a metronome mark.", "16th at quarter = 72"),
]
DynamicRangeField = Annotated[
    DynamicRange,
    _read_as(DynamicRange, parse_dynamic_range),
    _AS_TEXT,
    _schema("From the softest to the loudest mark, or one mark.", "p-f", "mf"),
]
SaxophoneField = Annotated[
    Saxophone,
    _read_as(Saxophone, saxophone),
    PlainSerializer(lambda member: member.name, return_type=str),
    _schema("A member of the family.", enum=list(FAMILY)),
]

DynamicCourseField = Annotated[
    DynamicCourse,
    _read_as(DynamicCourse, parse_dynamic_course),
    _AS_TEXT,
    _schema("Marks with hairpins between them, or one mark.", "mf", "pp < f", "pp < f > pp"),
]
LengthField = Annotated[
    Length,
    _read_as(Length, parse_length),
    _AS_TEXT,
    _schema("A note value, a sum of them, or a fraction of a whole note.", "quarter.", "3/8"),
]
LastingField = Annotated[
    Lasting,
    _read_as((Length, End), parse_lasting),
    _AS_TEXT,
    _schema("A length, or where it ends.", "half", "half+eighth", "3/8", "to bar 14 beat 1"),
]

_TONE_NUMBER = r"[0-9]{1,3}"


def parse_tone_reference(text: str) -> int | Pitch:
    """Read a tone's number or its pitch; raises InputError."""
    number = text.strip()
    return int(number) if re.fullmatch(_TONE_NUMBER, number) else parse_pitch(text)


def _read_tone_reference(given: Any) -> int | Pitch:
    if isinstance(given, Pitch) or type(given) is int:
        return given
    try:
        if isinstance(given, str):
            return parse_tone_reference(given)
        raise InputError("tone.reference", "a tone is named by its number or its pitch")
    except ReedchordError as error:
        raise record_error(error) from None


ToneReferenceField = Annotated[
    int | Pitch,
    PlainValidator(_read_tone_reference),
    PlainSerializer(
        lambda tone: tone if isinstance(tone, int) else str(tone), return_type=int | str
    ),
    WithJsonSchema(
        {"type": ["integer", "string"], "description": "A tone's number, 1 the lowest, or pitch."}
    ),
]

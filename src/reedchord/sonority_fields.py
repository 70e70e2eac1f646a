"""The fields of a sonority: what sounds, how it is fingered, what is known and how well."""

from collections.abc import Iterator
from enum import StrEnum
from typing import Annotated, Any, Self, TypeVar

from pydantic import (
    BeforeValidator,
    ConfigDict,
    Field,
    PlainSerializer,
    PlainValidator,
    TypeAdapter,
    ValidationError,
    WithJsonSchema,
    field_validator,
    model_validator,
)
from pydantic_core import InitErrorDetails, PydanticKnownError

from reedchord.dynamics import SCALE, Dynamic, DynamicRange, parse_dynamic_range
from reedchord.errors import InputError, did_you_mean
from reedchord.numbers_as_text import decimal_text
from reedchord.pitch import Pitch, pitch_from_cents
from reedchord.record_fields import (
    DynamicRangeField,
    FingeringField,
    PitchField,
    RateField,
    Record,
    Rows,
    SaxophoneField,
    ToneReferenceField,
    record_error,
)
from reedchord.source import Citation, Key, Text

MAX_TONE_ALTERATION_CENTS = 300

_Word = TypeVar("_Word", bound=StrEnum)


class Presence(StrEnum):
    """How prominent a tone is at a dynamic."""

    DOMINANT = "dominant"
    CLEAR = "clear"
    FAINT = "faint"
    ABSENT = "absent"


class Evidence(StrEnum):
    """How a claim is known, weakest first."""

    INVENTED = "invented"
    CARRIED = "carried"
    DOCUMENTED = "documented"
    TRIED = "tried"
    MEASURED = "measured"


class Articulation(StrEnum):
    """A way of articulating."""

    SINGLE_TONGUE = "single tongue"
    DOUBLE_TONGUE = "double tongue"
    BREATH = "breath"
    SLAP = "slap"
    SLUR = "slur"
    FLUTTER = "flutter"


class Closeness(StrEnum):
    """Why a neighbour connects easily."""

    FINGERS = "fingers"
    EMBOUCHURE = "embouchure"
    BOTH = "fingers and embouchure"


def _one_of(kind: type[_Word], noun: str) -> BeforeValidator:
    """Read one of the words of an enumeration; near words stand in the error."""

    def read(given: Any) -> Any:
        if not isinstance(given, str):
            raise PydanticKnownError("string_type")
        if given not in list(kind):
            hint = did_you_mean(given, kind)
            raise record_error(InputError("text.choice", f"{given!r} is no {noun}", hint=hint))
        return kind(given)

    return BeforeValidator(read)


PresenceField = Annotated[Presence, _one_of(Presence, "word for presence")]
EvidenceField = Annotated[Evidence, _one_of(Evidence, "kind of evidence")]
ArticulationField = Annotated[Articulation, _one_of(Articulation, "way of articulating")]
ClosenessField = Annotated[Closeness, _one_of(Closeness, "reason why sonorities are neighbours")]

_PRESENCE_BY_TEXT = TypeAdapter(dict[str, PresenceField], config=ConfigDict(defer_build=True))


def _spread_over_marks(given: Any) -> dict[Dynamic, Presence]:
    """Turn `{p-mf: clear}` into one entry a mark, softest first; no mark twice."""
    spread: dict[Dynamic, Presence] = {}
    for text, presence in _PRESENCE_BY_TEXT.validate_python(given).items():
        try:
            marks = parse_dynamic_range(text).marks()
            for mark in marks:
                if mark in spread:
                    raise InputError("presence.twice", f"the presence at {mark} is given twice")
        except InputError as error:
            line = InitErrorDetails(type=record_error(error), loc=(text,), input=given)
            raise ValidationError.from_exception_data("presence", [line]) from None
        spread |= dict.fromkeys(marks, presence)
    return {mark: spread[mark] for mark in SCALE if mark in spread}


PresenceByDynamic = Annotated[
    dict[Dynamic, Presence],
    PlainValidator(_spread_over_marks),
    PlainSerializer(
        lambda presence: {str(mark): str(word) for mark, word in presence.items()},
        return_type=dict[str, str],
    ),
    WithJsonSchema({"type": "object", "additionalProperties": {"enum": list(Presence)}}),
]


class Tone(Record):
    """One sound of a sonority."""

    model_config = ConfigDict(
        json_schema_extra={"anyOf": [{"required": ["written"]}, {"required": ["concert"]}]}
    )

    written: PitchField | None = None
    """Written pitch for the sonority's saxophone."""
    concert: PitchField | None = None
    """Concert pitch; may stand instead of the written one, or beside it as a check."""
    presence: PresenceByDynamic = Field(default_factory=dict)
    """How prominent the tone is, by dynamic mark or range of marks: `{p-mf: clear}`."""

    @field_validator("written", "concert")
    @classmethod
    def _spelled_near(cls, pitch: Pitch | None) -> Pitch | None:
        """Keep the spelling so near to its step that every transposition can be spelled."""
        if pitch is not None and abs(pitch.alteration_cents) > MAX_TONE_ALTERATION_CENTS:
            error = InputError(
                "tone.spelling",
                f"{pitch} is spelled far from its step",
                hint=f"Choose a nearer step, such as {pitch_from_cents(pitch.cents)}.",
            )
            raise record_error(error)
        return pitch

    @model_validator(mode="after")
    def _has_a_pitch(self) -> Self:
        if self.written is None and self.concert is None:
            error = InputError(
                "tone.no-pitch",
                "the tone has neither a written nor a concert pitch",
                hint="Give one of the two.",
            )
            raise record_error(error)
        return self

    def presence_at(self, dynamic: Dynamic) -> Presence | None:
        """Return how prominent the tone is at a dynamic; None where nobody has said."""
        return self.presence.get(dynamic)


MOST_ATTACKS_PER_SECOND = 20
"""Faster than anybody tongues, even doubly (common practice, no source)."""


class Limit(Record):
    """The fastest rhythm for one way of articulating, and the dynamics possible at it."""

    articulation: ArticulationField
    """Way of articulating that the limit holds for."""
    fastest: RateField
    """Fastest rhythm, a note value at a metronome mark."""
    dynamics: DynamicRangeField | None = None
    """Dynamics possible at that speed."""

    def words(self) -> str:
        """Return the limit as one clause."""
        speed = f"{self.articulation}: up to {self.fastest.words()}"
        return f"{speed}, {self.dynamics}" if self.dynamics else speed

    def doubts(self) -> Iterator[str]:
        """Yield a sentence where nobody is as fast as that."""
        a_second = self.fastest.attacks_per_second
        if a_second > MOST_ATTACKS_PER_SECOND:
            yield (
                f"{self.articulation}: {self.fastest.words()} are {decimal_text(a_second)} attacks "
                "a second, faster than any tongue: check the note value and the tempo"
            )


class Neighbour(Record):
    """A sonority that connects easily to this one."""

    sonority: Key
    """Id of the neighbour."""
    because: ClosenessField
    """What makes the change easy."""
    note: Text | None = None
    """How the source puts it."""


class SonorityFields(Record):
    """The fields of a sonority and what follows from them; `Sonority` adds the rules."""

    id: Key
    """Key of the record, unique in its collection."""
    name: Text | None = None
    """A name for people."""
    saxophone: SaxophoneField
    """Member of the family that the record is about."""
    fingering: FingeringField
    """Keys that are down, each by its plain name, any of them partly pressed."""
    tones: Annotated[Rows[Tone], Field(min_length=1, max_length=12)]
    """What sounds, the lowest tone first."""
    emphasised: ToneReferenceField | None = None
    """Tone that is brought out: its number, 1 the lowest, or its written pitch."""
    dynamics: DynamicRangeField | None = None
    """Dynamics at which the sonority speaks at all."""
    limits: Rows[Limit] = ()
    """Fastest rhythms, one for each way of articulating that was tried."""
    neighbours: Rows[Neighbour] = ()
    """Sonorities that connect easily, with the reason."""
    build_up: Rows[int] = ()
    """Numbers of the tones in the order in which they can enter one by one."""
    advice: Text | None = None
    """What helps it to speak."""
    evidence: EvidenceField
    """How the record is known."""
    source: Citation | None = None
    """Where the record stands; not needed where it is invented or the player's own."""
    set_up: Text | None = None
    """Player, instrument, mouthpiece and reed that it was tried or measured on."""
    carried_from: Key | None = None
    """Id of the record that this one was carried from."""
    same_fingering_as: Rows[Key] = ()
    """Ids of records of other sources that have the same fingering on the same saxophone."""

    @property
    def numbers(self) -> range:
        """Numbers of the tones, 1 the lowest."""
        return range(1, len(self.tones) + 1)

    def written(self, number: int) -> Pitch:
        """Return the written pitch of a tone, by its number."""
        tone = self.tones[number - 1]
        if tone.written is not None:
            return tone.written
        assert tone.concert is not None  # a tone without either is refused
        return self.saxophone.written(tone.concert)

    def concert(self, number: int) -> Pitch:
        """Return the concert pitch of a tone, by its number."""
        return self.saxophone.concert(self.written(number))

    @property
    def written_pitches(self) -> tuple[Pitch, ...]:
        """Written pitches, lowest first."""
        return tuple(self.written(number) for number in self.numbers)

    @property
    def concert_pitches(self) -> tuple[Pitch, ...]:
        """Concert pitches, lowest first."""
        return tuple(self.concert(number) for number in self.numbers)

    @property
    def emphasised_number(self) -> int | None:
        """Number of the emphasised tone, None where the record names none."""
        return None if self.emphasised is None else self.tone_number(self.emphasised)

    def tone_number(self, tone: int | Pitch) -> int:
        """Return the number of a tone given by number or by written (else concert) pitch.

        A pitch without cents also finds the one tone nearest to it, within 50 cents of a
        semitone's and 25 of a quarter tone's. Raises InputError that lists the tones.
        """
        found = list(self._numbers_of(tone))
        if len(found) == 1:
            return found[0]
        shown = ", ".join(f"{n}: {self.written(n)}" for n in self.numbers)
        between = f"could be tone {' or '.join(map(str, found))}"
        raise InputError(
            "sonority.tone",
            f"{tone} {between if found else 'is not among the tones'} of {self.id}",
            hint=f"Its written tones are {shown}.",
        )

    def _numbers_of(self, tone: int | Pitch) -> Iterator[int]:
        if isinstance(tone, int):
            yield from (number for number in self.numbers if number == tone)
            return
        for pitches in (self.written_pitches, self.concert_pitches):
            gaps = [abs(pitch.cents - tone.cents) for pitch in pitches]
            if min(gaps) <= _within_cents(tone):
                yield from (n for n in self.numbers if gaps[n - 1] == min(gaps))
                return

    def possible_dynamics(self) -> DynamicRange | None:
        """Return the dynamics at which it speaks, as said or as its tones' presence shows."""
        if self.dynamics is not None:
            return self.dynamics
        heard = [
            mark
            for mark in SCALE
            if any(tone.presence_at(mark) not in (None, Presence.ABSENT) for tone in self.tones)
        ]
        return DynamicRange(heard[0], heard[-1]) if heard else None

    def label(self) -> str:
        """Return the name for people, else the id."""
        return self.name or self.id


def _within_cents(tone: Pitch) -> int:
    """Return how far a pitch may lie from the tone that it names."""
    for grid_cents in (100, 50):
        if tone.alteration_cents % grid_cents == 0:
            return grid_cents // 2
    return 1

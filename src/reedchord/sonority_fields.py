"""The fields of a sonority: what sounds, how it is fingered, what is known and how well."""

from __future__ import annotations

from collections.abc import Iterator
from enum import StrEnum
from typing import Annotated, Any

from pydantic import BeforeValidator, Field

from reedchord.dynamics import SCALE, Dynamic, DynamicRange, parse_dynamic_range
from reedchord.errors import InputError
from reedchord.pitch import Pitch
from reedchord.record_fields import (
    DynamicRangeField,
    FingeringField,
    PitchField,
    RateField,
    Record,
    SaxophoneField,
    ToneReferenceField,
    record_error,
)
from reedchord.source import Citation, Key, Text


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


def _spread_over_marks(given: Any) -> Any:
    """Turn `{p-mf: clear}` into one entry a mark; a mark named twice is an error."""
    if not isinstance(given, dict):
        return given
    spread: dict[Any, Any] = {}
    for text, presence in given.items():
        try:
            marks = parse_dynamic_range(str(text)).marks()
        except InputError as error:
            raise record_error(error) from None
        for mark in marks:
            if mark in spread:
                raise record_error(
                    InputError("presence.twice", f"the presence at {mark} is given twice")
                )
            spread[mark] = presence
    return spread


def _enum_by_text(kind: type[StrEnum]) -> BeforeValidator:
    names = ", ".join(kind)

    def read(given: Any) -> Any:
        if isinstance(given, str) and given in list(kind):
            return kind(given)
        raise record_error(InputError("text.choice", f"{given!r} is none of {names}"))

    return BeforeValidator(read)


PresenceField = Annotated[Presence, _enum_by_text(Presence)]
PresenceByDynamic = Annotated[
    dict[Dynamic, PresenceField],
    BeforeValidator(_spread_over_marks, json_schema_input_type=dict[str, Presence]),
]


class Tone(Record):
    """One sound of a sonority."""

    written: PitchField | None = None
    """Written pitch for the sonority's saxophone."""
    concert: PitchField | None = None
    """Concert pitch; may stand instead of the written one, or beside it as a check."""
    presence: PresenceByDynamic = Field(default_factory=dict)
    """How prominent the tone is, by dynamic mark or range of marks: `{p-mf: clear}`."""

    def presence_at(self, dynamic: Dynamic) -> Presence | None:
        """Return how prominent the tone is at a dynamic; None where nobody has said."""
        return self.presence.get(dynamic)


class Limit(Record):
    """The fastest rhythm for one way of articulating, and the dynamics possible at it."""

    articulation: Annotated[Articulation, _enum_by_text(Articulation)]
    """Way of articulating that the limit holds for."""
    fastest: RateField
    """Fastest rhythm, a note value at a metronome mark."""
    dynamics: DynamicRangeField | None = None
    """Dynamics possible at that speed."""

    def words(self, *, british: bool = False) -> str:
        """Return the limit as one clause."""
        speed = f"{self.articulation}: up to {self.fastest.words(british=british)}"
        return f"{speed}, {self.dynamics}" if self.dynamics else speed


class Neighbour(Record):
    """A sonority that connects easily to this one."""

    sonority: Key
    """Id of the neighbour."""
    because: Annotated[Closeness, _enum_by_text(Closeness)]
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
    tones: Annotated[tuple[Tone, ...], Field(min_length=1, max_length=12, strict=False)]
    """What sounds, the lowest tone first."""
    emphasised: ToneReferenceField | None = None
    """Tone that is brought out: its number, 1 the lowest, or its written pitch."""
    dynamics: DynamicRangeField | None = None
    """Dynamics at which the sonority speaks at all."""
    limits: Annotated[tuple[Limit, ...], Field(strict=False)] = ()
    """Fastest rhythms, one for each way of articulating that was tried."""
    neighbours: Annotated[tuple[Neighbour, ...], Field(strict=False)] = ()
    """Sonorities that connect easily, with the reason."""
    build_up: Annotated[tuple[int, ...], Field(strict=False)] = ()
    """Numbers of the tones in the order in which they can enter one by one."""
    advice: Text | None = None
    """What helps it to speak."""
    evidence: Annotated[Evidence, _enum_by_text(Evidence)]
    """How the record is known."""
    source: Citation | None = None
    """Where the record stands; not needed where it is invented or the player's own."""
    set_up: Text | None = None
    """Player, instrument, mouthpiece and reed that it was tried or measured on."""
    carried_from: Key | None = None
    """Id of the record that this one was carried from."""

    @property
    def numbers(self) -> range:
        """Numbers of the tones, 1 the lowest."""
        return range(1, len(self.tones) + 1)

    def written(self, number: int) -> Pitch:
        """Return the written pitch of a tone, by its number."""
        tone = self.tones[number - 1]
        if tone.written is not None:
            return tone.written
        assert tone.concert is not None  # a record without either is refused
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

        A pitch without cents also finds the one tone within a quarter tone of it. Raises
        InputError that lists the tones.
        """
        found = list(self._numbers_of(tone))
        if len(found) == 1:
            return found[0]
        shown = ", ".join(f"{n}: {self.written(n)}" for n in self.numbers)
        raise InputError(
            "sonority.tone",
            f"{tone} is not among the tones of {self.id}",
            hint=f"Its written tones are {shown}.",
        )

    def _numbers_of(self, tone: int | Pitch) -> Iterator[int]:
        if isinstance(tone, int):
            yield from (number for number in self.numbers if number == tone)
            return
        for pitches in (self.written_pitches, self.concert_pitches):
            gaps = [abs(pitch.cents - tone.cents) for pitch in pitches]
            within = 1 if tone.deviation_cents else 50
            near = [number for number, gap in zip(self.numbers, gaps, strict=True) if gap < within]
            if near:
                yield from near
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

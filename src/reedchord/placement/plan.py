"""Placements, and the file that holds the placements of a score."""

import os
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, Literal, NamedTuple

from pydantic import BeforeValidator, Field, WithJsonSchema

from reedchord.errors import Where
from reedchord.placement.style import Manner, Style
from reedchord.record_fields import (
    DynamicCourseField,
    LastingField,
    LengthField,
    Record,
    SaxophoneField,
    ToneReferenceField,
)
from reedchord.source import Key, Text

if TYPE_CHECKING:
    from reedchord.own_file import OwnFile

NOUN = "a plan"
VERSION = 1
MAX_GRACES = 100
"""More grace notes than stand before one beat."""


def _as_text(given: Any) -> Any:
    """Bars, beats and voices look like numbers to YAML."""
    return str(given) if isinstance(given, int | float) and not isinstance(given, bool) else given


NumberText = Annotated[
    Text,
    BeforeValidator(_as_text),
    WithJsonSchema({"type": ["string", "number"], "minLength": 1, "maxLength": 2000}),
]


class Placement(Record):
    """One sonority at one place of a score."""

    sonority: Key
    """Id of the sonority in the collection."""
    part: Text
    """The part's id or name."""
    bar: NumberText
    """What the score calls the bar, or `@N` for the Nth bar from the start."""
    beat: NumberText = "1"
    """Beat, counted from 1: `3`, `2.5` or `2+1/3`."""
    voice: NumberText | None = None
    """Voice, where several begin on this beat."""
    staff: NumberText | None = None
    """Staff, where several begin on this beat."""
    grace: Annotated[int, Field(ge=1, lt=MAX_GRACES)] | None = None
    """Grace note before this beat to take the place of, 1 the first of them."""
    lasting: LastingField | None = None
    """How long it lasts; as long as what is there where it is left out."""
    tones: Annotated[tuple[ToneReferenceField, ...] | None, Field(strict=False)] = None
    """Only these tones, by number or pitch; all where it is left out."""
    emphasised: ToneReferenceField | None = None
    """Tone to bring out instead of the record's."""
    build_up: bool = False
    """Whether its tones enter one after the other, in the record's order or the given one."""
    fade: bool = False
    """Whether its tones leave one after the other, the last to enter first."""
    bring_out: bool = False
    """Whether the emphasised tone sounds alone, then the whole, then it alone again."""
    order: Annotated[tuple[ToneReferenceField, ...] | None, Field(strict=False)] = None
    """The order in which tones enter, by number or pitch, instead of the record's."""
    steps: Annotated[tuple[LengthField, ...] | None, Field(strict=False)] = None
    """How long each step of the course lasts; that of the whole chord may be left out."""
    tremolo: Key | None = None
    """Id of another sonority with which it alternates as fast as both allow."""
    trill: Key | None = None
    """The same, called a trill: two fingerings near each other."""
    slur: bool = False
    """Whether a slur leads to the next sonority, which has to follow at once."""
    dynamics: DynamicCourseField | None = None
    """Marks with hairpins: at its beginning, where it is whole, and at its last step."""
    manner: Annotated[Manner, Field(strict=False)] = Manner.ORDINARY
    """How it is played."""
    as_written: bool = False
    """Whether the notes that stand there stay, lowest for lowest tone, and are only marked."""
    saxophone: SaxophoneField | None = None
    """The part's saxophone, where the score does not tell it."""
    carry: bool = False
    """Whether a sonority of another saxophone may be carried to the part's."""

    @property
    def other(self) -> str | None:
        """Id of the sonority with which it alternates, None where it sounds alone."""
        return self.tremolo or self.trill

    @property
    def unfolding(self) -> tuple[tuple[str, bool], ...]:
        """The ways in which tones may come and go, and whether each is asked for."""
        return ("build up", self.build_up), ("fade", self.fade), ("bring out", self.bring_out)

    @property
    def ways(self) -> tuple[str, ...]:
        """What sets it apart from a plain chord, in words: `build up`, `tremolo with heron`."""
        alternating = ("tremolo", self.tremolo), ("trill", self.trill)
        turns = tuple(f"{name} with {other}" for name, other in alternating if other)
        return turns + tuple(name for name, is_asked in self.unfolding if is_asked)

    @property
    def unfolds(self) -> bool:
        """Whether its tones come or go one after the other."""
        return any(is_asked for _, is_asked in self.unfolding)


class PlanFile(Record):
    """A file of placements for a score."""

    reedchord: Literal["plan"]
    """Says what the file is."""
    version: Literal[1]
    """Version of this format."""
    collection: Text | None = None
    """The collection's file or folder, from where the plan stands."""
    style: Style = Field(default_factory=Style)
    """How the sonorities look."""
    placements: Annotated[tuple[Placement, ...], Field(strict=False)]
    """The placements, in any order."""


class Plan(NamedTuple):
    """A plan that was read: each placement with the line on which it stands."""

    placements: tuple[tuple[Placement, Where], ...]
    style: Style | None
    collection: Path | None


def read_plan(path: str | os.PathLike[str]) -> Plan:
    """Read a plan file; raises InputError or SeveralErrors with file, line and field."""
    from reedchord.own_file import read_own_file

    plan = _plan(read_own_file(PlanFile, path, NOUN))
    if plan.collection is None:
        return plan
    return plan._replace(collection=Path(path).parent / plan.collection)


def parse_plan(text: str, name: str = "plan.yaml") -> Plan:
    """Read a plan from text; `name` stands in messages, and .json at its end counts."""
    from reedchord.own_file import parse_own_text

    return _plan(parse_own_text(PlanFile, text, name, NOUN))


def _plan(file: "OwnFile[PlanFile]") -> Plan:
    plan, fields = file.record, file.fields
    return Plan(
        tuple(
            (placement, fields.where(("placements", index), file.path))
            for index, placement in enumerate(plan.placements)
        ),
        plan.style if "style" in fields.data else None,
        Path(plan.collection) if plan.collection else None,
    )

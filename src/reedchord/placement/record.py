"""What a score carries of its placements: enough for footnotes, for redoing and undoing."""

import json
import re
from collections.abc import Container, Iterable
from typing import Annotated, Literal, Self

from pydantic import Field, ValidationError, model_validator

from reedchord.errors import InputError, RequestError
from reedchord.musicxml.document import Score, read_score
from reedchord.musicxml.fragment import parse_fragment
from reedchord.musicxml.header import field_text
from reedchord.placement.plan import Placement
from reedchord.placement.style import Style
from reedchord.record_data import plain_data
from reedchord.record_fields import PitchField, Record, Rows
from reedchord.sonority import Sonority
from reedchord.source import Key, Text

VERSION: Literal[2] = 2
"""Version 1 lacks what was taken away, and is read as well."""
ID_PREFIX = "rc"
OUR_KIND_OF_ID = re.compile(rf"{ID_PREFIX}-([1-9][0-9]{{0,8}})-.*", re.DOTALL)
"""Ids that we give: the placement's number, then the note's."""

LEGEND_HEAD = "Fingerings and sources:"
"""Begins a legend, so that nobody takes its first label for that of a chord."""

Quarters = Annotated[Text, Field(pattern=r"^[0-9]{1,40}(/0{0,9}[1-9][0-9]{0,30})?$")]
"""A length or a moment in quarter notes; no exponent, which could fill the memory."""
_COUNTED_BAR = r"@[1-9][0-9]{0,6}"


def is_legend(words: str) -> bool:
    """Tell whether words of a score are a legend of ours, changed or not."""
    return words.lstrip().startswith(LEGEND_HEAD)


class OtherRecord(Record):
    """The sonority that takes turns with a placement's own, as it stands in the score."""

    label: Text
    """Its label in this score."""
    pitches: Rows[PitchField]
    """Pitches as the score shows them, lowest first."""
    cents: Rows[Text]
    """Cents from each shown pitch to the true one."""
    numbers: Rows[int]
    """Numbers of the tones in its record."""
    emphasised: int | None
    """Number of the emphasised tone."""


class SlurRecord(Record):
    """The slur that leads from a placement to the next one."""

    to: Annotated[int, Field(ge=1)]
    """Number of the placement that it leads to."""
    number: Annotated[int, Field(ge=1, le=16)]
    """Number by which the score tells it from slurs at the same time."""


class PastChange(Record):
    """Why a placement is no longer what it was: what one set-up found in trials."""

    date: Text
    """Day of the trial."""
    set_up: Key
    """Id of the set-up."""
    was: Key
    """Id of the sonority that stood here; the same as now where only its record changed."""
    because: Text
    """What was found."""


class PlacedRecord(Record):
    """One placement as it stands in the score."""

    number: Annotated[int, Field(ge=1)]
    """Counts the placements of the score; ids of its notes begin with it."""
    label: Text
    """Label of the sonority in this score."""
    wish: Placement
    """The placement that was asked for; its bar counts from the start."""
    bar: Text
    """What the score calls the bar."""
    onset_quarters: Quarters
    """Where it begins in the bar, in quarter notes."""
    duration_quarters: Quarters
    """How long it lasts, in quarter notes, all ties together."""
    is_concert: bool
    """Whether the score's pitches stand as they sound."""
    pitches: Annotated[tuple[PitchField, ...], Field(strict=False)]
    """Pitches as the score shows them, lowest first."""
    cents: Annotated[tuple[Text, ...], Field(strict=False)]
    """Cents from each shown pitch to the true one."""
    numbers: Annotated[tuple[int, ...], Field(strict=False)]
    """Numbers of the tones in the sonority's record."""
    emphasised: int | None
    """Number of the emphasised tone."""
    ids: Rows[str] = ()
    """Ids of its notes as the score has them, chord by chord; none where its version has none."""
    was: Annotated[Rows[Rows[str]], Field(min_length=1)] | None = None
    """What gave way, as XML, note by note and rest by rest: what the first note lost, then the
    other notes whole; None where nobody kept it."""
    lengths: Rows[Quarters] = ()
    """How long each of them lasted, in quarter notes, where they were divided or joined."""
    before: Quarters = "0"
    """How much of the first rest came before the placement, in quarter notes."""
    kept_fingering: bool = False
    """Whether its fingering stood there before, and stays when it is taken out."""
    divides_bar_rest: bool = False
    """Whether a multi-bar rest was divided for it."""
    words: Rows[str] = ()
    """The words that stand above it."""
    marks: Rows[str] = ()
    """Dynamics and hairpins before its chords, as XML, in their order."""
    other: OtherRecord | None = None
    """The sonority that takes turns with it in a tremolo or trill."""
    slur: SlurRecord | None = None
    """The slur from it to the next placement, None where none stands."""
    chords: Rows[Rows[PitchField]] = ()
    """Pitches chord by chord, lowest first, where not every chord has all of `pitches`."""
    set_aside: dict[Key, Placement] = Field(default_factory=dict)
    """Earlier wishes by sonority, for when it is swapped back."""
    history: Rows[PastChange] = ()
    """What it was before trials changed it, oldest first."""

    @model_validator(mode="after")
    def _lists_are_of_one_length(self) -> Self:
        for row in (self, self.other) if self.other else (self,):
            if not len(row.pitches) == len(row.cents) == len(row.numbers) > 0:
                raise ValueError(f"{row.label} has not as many pitches, cents and numbers")
        if self.lengths and self.was is not None and len(self.lengths) != len(self.was):
            raise ValueError(f"{self.label} has not as many lengths as rests and notes")
        return self

    def slur_leads_to(self, numbers: Container[int]) -> bool:
        """Whether a slur leads from it to one of some placements."""
        return self.slur is not None and self.slur.to in numbers

    def with_slur(self, slur: SlurRecord | None) -> Self:
        """Return the row with the slur that stands, which then is what was asked for."""
        is_slurred = slur is not None
        if (self.slur, self.wish.slur) == (slur, is_slurred) or self.was is None:
            return self  # a record from before says nothing of slurs
        wish = self.wish.model_copy(update={"slur": is_slurred})
        return self.model_copy(update={"slur": slur, "wish": wish})

    @property
    def turns(self) -> tuple[Self, ...]:
        """The placement as it is, and for a tremolo or trill as the other sonority's too."""
        if self.other is None or self.wish.other is None:
            return (self,)
        wish = {"sonority": self.wish.other, "tones": None, "emphasised": None}
        ways = [way for way in ("tremolo", "trill") if getattr(self.wish, way)]
        wish |= dict.fromkeys(ways, self.wish.sonority)
        turned = {"wish": self.wish.model_copy(update=wish), **dict(self.other)}
        return self, self.model_copy(update=turned)


class Undo(Record):
    """What gives the score back as it was, as long as nobody edits it in between.

    Offsets count characters of the text without our field and what was written around it.
    """

    sha256: Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]
    """Hash of that text in UTF-8."""
    before: Annotated[int, Field(ge=0)]
    """Characters written before the field's text."""
    after: Annotated[int, Field(ge=0)]
    """Characters written after the field's text."""
    replaced: str
    """What stood in their place."""
    edits: list[Annotated[list[int | str], Field(min_length=3, max_length=3)]]
    """Start, length and former text of each change."""

    @model_validator(mode="after")
    def _edits_follow_one_another(self) -> Self:
        done = 0
        for start, length, was in self.edits:
            if not (isinstance(start, int) and isinstance(length, int) and isinstance(was, str)):
                raise ValueError("an edit to undo is no start, length and text")
            if start < done or length < 0:
                raise ValueError("the edits to undo overlap")
            done = start + length
        return self


class ScoreRecord(Record):
    """The record of all placements of a score."""

    format: Literal["reedchord"] = "reedchord"
    """Says whose field it is."""
    version: Literal[1, 2] = VERSION
    """Version of this format."""
    style: Style
    """How the sonorities look."""
    placements: Annotated[tuple[PlacedRecord, ...], Field(strict=False)]
    """The placements in the order of the score."""
    sonorities: dict[Key, Sonority]
    """The sonorities that occur, whole, by id."""
    legends: dict[Text, str] = Field(default_factory=dict)
    """The legends that stand in the last bars of parts, by the ids of the parts."""
    undo: Undo | None = None
    """How to give the score back; none when it was edited after an earlier placement."""

    @model_validator(mode="after")
    def _fits_together(self) -> Self:
        numbers = [row.number for row in self.placements]
        if len(set(numbers)) < len(numbers):
            raise ValueError("two placements have one number")
        for row in self.placements:
            if not re.fullmatch(_COUNTED_BAR, row.wish.bar):
                raise ValueError(f"the bar of {row.label} is {row.wish.bar!r}, not counted")
            turns = {row.wish.sonority: row, row.wish.other: row.other}
            for name, turn in turns.items():
                if name is not None and name not in self.sonorities:
                    raise ValueError(f"{name} is not in the record")
                if name is not None and turn is not None:
                    _check_tones(turn, self.sonorities[name])
        return self

    def of(self, rows: Iterable[PlacedRecord]) -> Self:
        """Return the record of these placements alone, without a way back.

        Slurs to other placements are not among what it holds.
        """
        given = tuple(rows)
        numbers = {row.number for row in given}
        kept = tuple(
            row.with_slur(row.slur if row.slur_leads_to(numbers) else None) for row in given
        )
        names = {name for row in kept for name in (row.wish.sonority, row.wish.other)}
        sonorities = {name: one for name, one in self.sonorities.items() if name in names}
        parts = {row.wish.part for row in kept}
        legends = {part: text for part, text in self.legends.items() if part in parts}
        return self.model_construct(
            style=self.style, placements=kept, sonorities=sonorities, legends=legends
        )


def slur_id(number: int, way: str) -> str:
    """Return the id of the `start` or `stop` of the slur that stands on a placement."""
    return f"{ID_PREFIX}-{number}-slur-{way}"


def _check_tones(row: PlacedRecord | OtherRecord, sonority: Sonority) -> None:
    named = {*row.numbers, *(() if row.emphasised is None else (row.emphasised,))}
    if not named <= set(sonority.numbers):
        raise ValueError(f"{row.label} names tones that {sonority.id} has not")


def _check_elements(record: ScoreRecord) -> None:
    """Raise ValueError where a text that will stand in the score is not one whole element.

    Only what is read is checked: what we write ourselves are elements, and parsing takes long.
    """
    texts = {text for row in record.placements for was in row.was or () for text in was}
    for text in texts.union(*(row.marks for row in record.placements)):
        if parse_fragment(text).source(text) != text:
            raise ValueError("what stood in the score is more than one element")


def read_record(score: Score) -> ScoreRecord | None:
    """Return the record that a score carries, None where it has none.

    Raises InputError for a field that cannot be read.
    """
    text = field_text(score)
    if text is None:
        return None
    try:
        record = ScoreRecord.model_validate(json.loads(text))
        _check_elements(record)
    except (ValidationError, ValueError, RecursionError) as error:
        raise broken_record(_reason(error)) from None
    return record


def broken_record(reason: str) -> InputError:
    """Return the error of a record that was changed so that it cannot be used."""
    return InputError(
        "record.broken",
        "the score's reedchord field was changed by hand and cannot be read",
        hint=f"Take the field out, or mend it: {reason}",
    )


def _reason(error: Exception) -> str:
    """Return what is wrong and where in the record, on one line."""
    if not isinstance(error, ValidationError):
        return str(error).splitlines()[0]
    first = error.errors(include_url=False, include_input=False)[0]
    return f"{'.'.join(map(str, first['loc']))}: {first['msg']}".removeprefix(": ")


def record_of(score: Score) -> ScoreRecord:
    """Return the record of a score's placements; raises RequestError where it has none."""
    record = read_record(score)
    if record is None:
        raise _record_lost(score) or no_placements()
    return record


def _record_lost(score: Score) -> RequestError | None:
    """Return the error of a score whose notes carry our ids though the record is gone, if so."""
    kind = re.compile(rf"{ID_PREFIX}-[1-9][0-9]{{0,8}}-[0-9]+")  # those of slurs are no notes'
    count = sum(kind.fullmatch(name) is not None for name in score.ids)
    if not count:
        return None
    return RequestError(
        "record.lost",
        f"the score has no record of its sonorities: {count} notes carry our ids "
        f"({ID_PREFIX}-…), but what was placed, and what stood there before, is not known",
        hint="A program dropped the record when it saved the score. Go back to the file that "
        "this one was made from, and strip or change that one.",
    )


def no_placements() -> RequestError:
    """Return the error of a score in which nothing of ours stands."""
    return RequestError(
        "score.no-placements",
        "the score holds no sonorities of ours",
        hint="Place one with: reedchord place SCORE SONORITY --collection FILE …",
    )


def recorded_style(data: bytes) -> Style | None:
    """Return the style of the placements that a document holds, None where it has none."""
    record = read_record(read_score(data))
    return record.style if record else None


def record_text(record: ScoreRecord) -> str:
    """Return the record as text that may stand in XML of any encoding."""
    data = {"format": record.format, "version": record.version, **plain_data(record)}
    text = json.dumps(data, ensure_ascii=True, separators=(",", ":"))
    for character in "<>&":
        text = text.replace(character, f"\\u{ord(character):04x}")
    return text

"""What a score carries of its placements: enough for footnotes, for redoing and undoing."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from typing import Annotated, Literal

from pydantic import Field, ValidationError

from reedchord.errors import InputError, RequestError
from reedchord.musicxml.document import Score, read_score
from reedchord.musicxml.header import field_text
from reedchord.placement.plan import Placement
from reedchord.placement.style import Style
from reedchord.record_fields import PitchField, Record, Rows
from reedchord.sonority import Sonority
from reedchord.source import Key, Text

VERSION: Literal[2] = 2
"""Version 1 lacks what was taken away, and is read as well."""
ID_PREFIX = "rc"
OUR_KIND_OF_ID = re.compile(rf"{ID_PREFIX}-([1-9][0-9]{{0,8}})-.*", re.DOTALL)
"""Ids that we give: the placement's number, then the note's."""


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
    onset_quarters: Text
    """Where it begins in the bar, in quarter notes."""
    duration_quarters: Text
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
    ids: Annotated[tuple[Text, ...], Field(strict=False)] = ()
    """Ids of its notes, chord by chord; none where the score's version has none."""
    was: Rows[Rows[str]] | None = None
    """What gave way, as XML, note by note and rest by rest: what the first note lost, then the
    other notes whole; None where nobody kept it."""
    lengths: Rows[Text] = ()
    """How long each of them lasted, in quarter notes, where they were divided or joined."""
    before: Text = "0"
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
    chords: Rows[Rows[PitchField]] = ()
    """Pitches chord by chord, lowest first, where not every chord has all of `pitches`."""
    set_aside: dict[Key, Placement] = Field(default_factory=dict)
    """Earlier wishes by sonority, for when it is swapped back."""
    history: Rows[PastChange] = ()
    """What it was before trials changed it, oldest first."""

    @property
    def turns(self) -> tuple[PlacedRecord, ...]:
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
    undo: Undo | None = None
    """How to give the score back; none when it was edited after an earlier placement."""

    def of(self, rows: Iterable[PlacedRecord]) -> ScoreRecord:
        """Return the record of these placements alone, without a way back."""
        kept = tuple(rows)
        names = {name for row in kept for name in (row.wish.sonority, row.wish.other)}
        sonorities = {name: one for name, one in self.sonorities.items() if name in names}
        return ScoreRecord(style=self.style, placements=kept, sonorities=sonorities)


def read_record(score: Score) -> ScoreRecord | None:
    """Return the record that a score carries, None where it has none.

    Raises InputError for a field that cannot be read.
    """
    text = field_text(score)
    if text is None:
        return None
    try:
        return ScoreRecord.model_validate(json.loads(text))
    except (ValidationError, ValueError) as error:
        raise InputError(
            "record.broken",
            "the score's reedchord field was changed by hand and cannot be read",
            hint=f"Take the field out, or mend it: {str(error).splitlines()[0]}",
        ) from None


def record_of(score: Score) -> ScoreRecord:
    """Return the record of a score's placements; raises RequestError where it has none."""
    record = read_record(score)
    if record is None:
        raise _record_lost(score) or no_placements()
    return record


def _record_lost(score: Score) -> RequestError | None:
    """Return the error of a score whose notes carry our ids though the record is gone, if so."""
    count = sum(OUR_KIND_OF_ID.fullmatch(name) is not None for name in score.ids)
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


def rows_still_there(score: Score, record: ScoreRecord) -> list[PlacedRecord]:
    """Return the placements whose chords the score still has.

    Ids tell; where a program dropped all of ours, the labels in the hidden footnotes do.
    """
    ids = score.ids
    if any(ids.intersection(row.ids) for row in record.placements):
        return [row for row in record.placements if ids.intersection(row.ids)]
    labels = {(note.text or "").partition(":")[0] for note in score.root.iter("footnote")}
    return [row for row in record.placements if row.label in labels]


def record_text(record: ScoreRecord) -> str:
    """Return the record as text that may stand in XML of any encoding."""
    data = record.model_dump(mode="json", by_alias=True, exclude_defaults=True)
    data = {"format": record.format, "version": record.version, **data}
    text = json.dumps(data, ensure_ascii=True, separators=(",", ":"))
    for character in "<>&":
        text = text.replace(character, f"\\u{ord(character):04x}")
    return text

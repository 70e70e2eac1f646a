"""Fingering footnotes, from a score alone: what appears in it, in order, and no more."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from reedchord.musicxml.document import read_score
from reedchord.pitch_names import ABOUT_NAMES, PitchNames
from reedchord.placement.standing import StandingPlacement, places_named, standing_placements
from reedchord.reader import reader
from reedchord.sonority import Sonority
from reedchord.trials.trials import Trials
from reedchord.trials.tried_text import shown_as_tried
from reedchord.wording import (
    evidence_words,
    keys_unbroken,
    limit_words,
    source_words,
    unbroken,
)

HEADING = "Fingering footnotes"
ABOUT_TONES = "Tones count from the lowest; +31¢ is 31 cents above the pitch named."
ABOUT_DIAGRAMS = (
    "Diagrams show the left hand above the right: 1, 2 and 3 are the keys under index, middle "
    "and ring finger; black keys are pressed, white ones are not, partly black ones are "
    "partly pressed."
)

COLUMN_HEADINGS = ("Label", "Fingering", "Sonority")
"""Of the table of footnotes where it is set as one."""
TONES_IN_A_ROW = 5
DIAGRAM_WIDTH_MM = 49
"""Room for a diagram beside its entry."""


@dataclass(frozen=True)
class FootnoteTone:
    """One tone of a footnote, its pitches in words."""

    number: int
    written: str
    concert: str
    is_emphasised: bool

    def words(self) -> str:
        """Return the tone as one clause."""
        words = f"{self.number} written {self.written} (concert {self.concert})"
        return f"{words}, emphasised" if self.is_emphasised else words


@dataclass(frozen=True)
class Footnote:
    """The footnote of one sonority, under its label in the score."""

    label: str
    sonority: Sonority
    tones: tuple[FootnoteTone, ...]
    limits: tuple[str, ...]
    places: str
    """All places where it stands, in words."""
    tried: tuple[tuple[str, str], ...] = ()
    """Pairs of a heading and what a set-up found."""

    @property
    def title(self) -> str:
        """The sonority and its saxophone."""
        return f"{self.sonority.label()}, {self.sonority.saxophone}"

    @property
    def fingering(self) -> str:
        """The fingering in words that lines may break only between keys."""
        return keys_unbroken(self.sonority.fingering.words())

    @property
    def tone_rows(self) -> tuple[tuple[FootnoteTone, ...], ...]:
        """The tones in rows of about one length that a line of print has room for."""
        count = len(self.tones)
        length = ceil(count / ceil(count / TONES_IN_A_ROW))
        return tuple(self.tones[start : start + length] for start in range(0, count, length))

    @property
    def remarks(self) -> tuple[tuple[str, str], ...]:
        """Pairs of a heading and what stands under it: all but fingering and tones."""
        limits = (("Limits", "; ".join(self.limits)),) if self.limits else ()
        remarks = (
            *limits,
            ("Source", source_words(self.sonority)),
            ("Evidence", evidence_words(self.sonority)),
            *self.tried,
            ("Places", self.places),
        )
        return tuple((heading, unbroken(words)) for heading, words in remarks)

    @property
    def rows(self) -> tuple[tuple[str, str], ...]:
        """Everything as pairs of a heading and what stands under it."""
        tones = unbroken("; ".join(tone.words() for tone in self.tones))
        return (("Fingering", self.fingering), ("Tones", tones), *self.remarks)


@dataclass(frozen=True)
class Footnotes:
    """The footnotes of a score in the order of their labels, and how they name pitches."""

    score_title: str
    """Empty where the score has none."""
    pitch_names: PitchNames
    notes: tuple[Footnote, ...]

    def __len__(self) -> int:
        return len(self.notes)

    def __iter__(self) -> Iterator[Footnote]:
        return iter(self.notes)

    @property
    def heading(self) -> str:
        """What the footnotes are and of what score."""
        return f"{HEADING}: {self.score_title}" if self.score_title else HEADING

    @property
    def guide(self) -> str:
        """What a reader must know before the first pitch."""
        return f"{ABOUT_TONES} {ABOUT_NAMES[self.pitch_names]}"


def footnotes_of(data: bytes, *, trials: Trials | None = None) -> Footnotes:
    """Return the footnotes of the bytes of a MusicXML document.

    With `trials`, what a set-up tried goes before what is documented, and both are told.
    Raises RequestError where it holds no placements.
    """
    score = read_score(data)
    by_label: dict[str, list[StandingPlacement]] = {}
    for one in standing_placements(score):
        by_label.setdefault(one.row.label, []).append(one)
    notes = []
    for label, placed in by_label.items():
        sonority, tried = shown_as_tried(placed[0].sonority, trials)
        tones = tuple(_tone(sonority, number) for number in sonority.numbers)
        limits = tuple(limit_words(sonority))
        places = places_named(placed)
        notes.append(Footnote(label, sonority, tones, limits, places, tried))
    return Footnotes(score.title, reader().pitch_names, tuple(notes))


def _tone(sonority: Sonority, number: int) -> FootnoteTone:
    return FootnoteTone(
        number,
        sonority.written(number).printed(),
        sonority.concert(number).printed(),
        number == sonority.emphasised_number,
    )

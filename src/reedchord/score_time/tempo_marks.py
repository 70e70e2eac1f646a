"""Tempo marks as they stand in a score: sound elements, metronome marks, words of change."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from enum import IntEnum
from fractions import Fraction
from typing import TYPE_CHECKING

from reedchord.errors import InputError
from reedchord.musicxml.bar_contents import has_tempo, word_texts
from reedchord.musicxml.bar_state import decimal_number
from reedchord.rhythm import QUARTERS_BY_TYPE, NoteValue
from reedchord.score_time.whole_score import WholeScore

if TYPE_CHECKING:
    from reedchord.musicxml.event import Element


class Trust(IntEnum):
    """Which of several marks at one moment counts: the highest."""

    WORDS = 0
    METRONOME = 1
    SOUND = 2


@dataclass(frozen=True)
class TempoMark:
    """A mark at a moment of the score, in quarter notes from its start.

    Either a tempo in quarters per minute, or a ratio to the tempo before (a metric
    modulation), or, with neither, words by which the tempo begins to change.
    """

    onset_quarters: Fraction
    trust: Trust
    quarters_per_minute: Fraction | None = None
    ratio: Fraction | None = None
    words: str = ""


_SLOWING = re.compile(
    r"\b(?:rit(?:ard(?:ando)?|enuto)?|rall(?:entando)?|allargando|slargando|smorzando|morendo"
    r"|calando|slowing|slower)\b",
    re.IGNORECASE,
)
_HURRYING = re.compile(
    r"\b(?:accel(?:erando)?|string(?:endo)?|affrettando|hurrying|faster)\b", re.IGNORECASE
)
MOST_DOTS = 4
_FIRST_NUMBER = re.compile(r"\d+(?:[.,]\d+)?")


def tempo_marks(whole: WholeScore) -> list[TempoMark]:
    """Return the tempo marks of all parts in order of time; equal ones stand once.

    Of several at one moment the more exact goes first: a sound element, a metronome mark,
    words. Raises InputError for numbers that cannot be read.
    """
    found = {
        mark
        for music in whole.parts
        for bar in music.part.bars
        if _may_change(bar.element)
        for onset, element in music.bar(bar.index).directions
        for mark in _marks(element, whole.bar_starts[bar.index] + onset)
    }
    best: dict[tuple[Fraction, bool], TempoMark] = {}
    for mark in sorted(found, key=_trust_then_text):
        best[mark.onset_quarters, mark.trust is Trust.WORDS] = mark
    return sorted(best.values(), key=lambda mark: (mark.onset_quarters, mark.trust))


def _may_change(bar: Element) -> bool:
    """Whether a bar need be read for its tempo."""
    return has_tempo(bar) or any(
        _SLOWING.search(text) or _HURRYING.search(text) for text in word_texts(bar)
    )


def _trust_then_text(mark: TempoMark) -> tuple[int, str]:
    return mark.trust, f"{mark.quarters_per_minute} {mark.ratio} {mark.words}"


def way_of(mark: TempoMark) -> int:
    """Return 1 where words ask for a faster tempo, -1 for a slower one, else 0."""
    if _SLOWING.search(mark.words):
        return -1
    return int(_HURRYING.search(mark.words) is not None)


def _marks(element: Element, onset: Fraction) -> Iterator[TempoMark]:
    sound = element if element.tag == "sound" else element.find("sound")
    tempo = sound.get("tempo") if sound is not None else None
    if tempo is not None and (exact := decimal_number(tempo, "sound tempo")):
        yield TempoMark(onset, Trust.SOUND, exact)
    for metronome in element.iterfind("direction-type/metronome"):
        yield from _metronome(metronome, onset)
    text = " ".join(words.text or "" for words in element.iterfind("direction-type/words"))
    if _SLOWING.search(text) or _HURRYING.search(text):
        yield TempoMark(onset, Trust.WORDS, words=" ".join(text.split())[:80])


def _metronome(metronome: Element, onset: Fraction) -> Iterator[TempoMark]:
    """Yield what `beat-unit = per-minute` or `beat-unit = beat-unit` says, if readable."""
    units = _beat_units(metronome)
    said = _FIRST_NUMBER.search(metronome.findtext("per-minute") or "")
    if said and len(units) == 1:
        beats = decimal_number(said.group().replace(",", "."), "per-minute")
        if beats:
            yield TempoMark(onset, Trust.METRONOME, beats * units[0])
    elif len(units) == 2:
        old, new = units
        yield TempoMark(onset, Trust.METRONOME, ratio=new / old)


def _beat_units(metronome: Element) -> list[Fraction]:
    """Return the note values of a mark in quarters; `beat-unit-tied` adds to the one before."""
    units: list[Fraction] = []
    for child in metronome.iterchildren("beat-unit", "beat-unit-tied"):
        if child.tag == "beat-unit":
            units.append(_dotted_quarters(child))
        elif units:
            units[-1] += sum(map(_dotted_quarters, child.iterfind("beat-unit")), Fraction(0))
    return units


def _dotted_quarters(unit: Element) -> Fraction:
    name = (unit.text or "").strip()
    if name not in QUARTERS_BY_TYPE:
        raise InputError("score.beat-unit", f"{name!r} is no note value of a metronome mark")
    dots = 0
    following = unit.getnext()
    while following is not None and following.tag == "beat-unit-dot":
        dots, following = dots + 1, following.getnext()
    return NoteValue(name, min(dots, MOST_DOTS)).quarters

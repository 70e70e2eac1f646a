"""A stretch with sonorities in it and no rest to breathe."""

from __future__ import annotations

from collections.abc import Iterator

from reedchord.checks.breath import breath_words, is_breathed_at, seconds_of_breath
from reedchord.checks.example import Example
from reedchord.checks.finding import Remedy, Severity
from reedchord.checks.played import Played
from reedchord.checks.rule import Problem, Rule
from reedchord.checks.turn import CheckedScore, SaxophonePart
from reedchord.checks.words import number
from reedchord.score_time.sounding_notes import Attack, SoundingNote

SNATCHED_AFTER_SECONDS = 1
"""Before a tongued note a breath is snatched off a note that lasts so long, without a rest being
written (common practice, no source)."""

_QUICK = "mf " + "C5/4 " * 11 + "r/4 " + "bell/4 " + "C5/4 " * 11


def _throughout(checked: CheckedScore) -> Iterator[Problem]:
    for part in checked.parts:
        mine = [one for one in checked.placements if one.spot.part_id == part.music.part.id]
        if mine:
            yield from _in_part(checked, part, mine)


def _in_part(
    checked: CheckedScore, part: SaxophonePart, placements: list[Played]
) -> Iterator[Problem]:
    for stretch in _stretches(checked, part.notes):
        start, end = stretch[0].onset_quarters, max(note.end_quarters for note in stretch)
        inside = [one for one in placements if start <= one.onset_quarters < end]
        if len(stretch) < 2 or not inside:
            continue
        first = inside[0]
        seconds = checked.tempo.seconds_between(start, end)
        if seconds > seconds_of_breath(first.dynamics):
            yield Problem(
                f"{number(seconds)} s around {first.name} without a place to breathe, "
                f"{breath_words(first.dynamics)}",
                first.spot,
                (Remedy("a rest or a breath mark before it"),),
            )


def _stretches(
    checked: CheckedScore, notes: tuple[SoundingNote, ...]
) -> Iterator[list[SoundingNote]]:
    """Yield notes in groups between which a player can breathe."""
    stretch: list[SoundingNote] = []
    for note in notes:
        if stretch and _may_breathe(checked, stretch, note):
            yield stretch
            stretch = []
        stretch.append(note)
    if stretch:
        yield stretch


def _may_breathe(checked: CheckedScore, stretch: list[SoundingNote], note: SoundingNote) -> bool:
    last, end = stretch[-1], max(one.end_quarters for one in stretch)
    if note.onset_quarters > end or is_breathed_at(last):
        return True
    seconds = checked.tempo.seconds_between(last.onset_quarters, last.end_quarters)
    return note.attack is Attack.TONGUED and seconds >= SNATCHED_AFTER_SECONDS


RULE = Rule(
    "breath.no-rest",
    Severity.WARNING,
    "A long stretch with a sonority in it has no place to breathe.",
    throughout=_throughout,
    passes=(
        Example("mf C5/1 bell/1 C5/1 r/1 C5/1 bell/1", "long notes, each begun anew"),
        Example(_QUICK.replace("r/4", "r/8 C5/8"), "a rest among quick notes", tempo=90),
        Example("mf C5/breve D5/breve E5/breve F5/breve", "no sonority, so it is not ours to say"),
    ),
    fails=(
        Example(_QUICK.replace("r/4", "C5/4"), "sixteen seconds of crotchets", tempo=90),
        Example("mf ( C5/breve bell/1 )", "twelve seconds under one slur"),
    ),
)

"""A stretch with sonorities in it and no rest to breathe."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator

from reedchord.checks.breath import breath_words, is_breathed_at, seconds_of_breath
from reedchord.checks.checked_score import CheckedScore, SaxophonePart
from reedchord.checks.example import Example
from reedchord.checks.finding import Remedy, Severity
from reedchord.checks.played import Played
from reedchord.checks.rule import Problem, Rule
from reedchord.checks.words import number
from reedchord.score_time.sounding_notes import Attack, SoundingNote

SNATCHED_AFTER_SECONDS = 1
"""Before a tongued note a breath is snatched off a note that lasts so long, without a rest being
written (common practice, no source)."""

_QUICK = "mf " + "C5/4 " * 11 + "r/4 " + "bell/4 " + "C5/4 " * 11


def _throughout(checked: CheckedScore) -> Iterator[Problem]:
    for part in checked.parts:
        mine = [one for one in checked.placements if one.spot.part_id == part.music.part.id]
        told: set[int] = set()
        for here in mine:
            stretch = _stretch(checked, part, here)
            if stretch is None:
                continue
            first, last = stretch
            if first == last or first in told:
                continue
            told.add(first)
            start, end = part.notes[first].onset_quarters, part.notes[last].end_quarters
            seconds = checked.tempo.seconds_between(start, end)
            if seconds > seconds_of_breath(here.dynamics):
                yield Problem(
                    f"{number(seconds)} s around {here.name} without a place to breathe, "
                    f"{breath_words(here.dynamics)}",
                    here.spot,
                    (Remedy("a rest or a breath mark before it"),),
                )


def _stretch(checked: CheckedScore, part: SaxophonePart, here: Played) -> tuple[int, int] | None:
    """Return the first and the last note around a placement between which nobody can breathe.

    None where the placement is none of the notes: a grace note, or edited into a rest.
    """
    notes = part.notes
    first = last = bisect_left(part.onsets, here.onset_quarters)
    if first == len(notes) or part.onsets[first] != here.onset_quarters or here.is_grace:
        return None
    while first > 0 and not _may_breathe(checked, notes[first - 1], notes[first]):
        first -= 1
    while last + 1 < len(notes) and not _may_breathe(checked, notes[last], notes[last + 1]):
        last += 1
    return first, last


def _may_breathe(checked: CheckedScore, before: SoundingNote, note: SoundingNote) -> bool:
    if note.onset_quarters > before.end_quarters or is_breathed_at(before):
        return True
    seconds = checked.tempo.seconds_between(before.onset_quarters, before.end_quarters)
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

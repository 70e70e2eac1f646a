"""What stands behind written chords, as text for people and as plain data for programs."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from reedchord.matching.match import RULE, Match
from reedchord.matching.match_score import MatchedChord, MatchedScore
from reedchord.pitch import Pitch, signed_cents_text
from reedchord.text_table import WIDTH

MOST_SHOWN = 3
_INDENT = " " * 4


def matched_text(matched: MatchedScore, *, most: int = MOST_SHOWN) -> str:
    """Return the chords that are clear, then the questions for the player."""
    lines = [_head(matched)]
    for one in matched.taken:
        lines += ["", *_chord_lines(one, 1)]
    if matched.questions:
        lines += ["", "Questions for the player"]
    for one in matched.questions:
        lines += ["", *_chord_lines(one, most)]
    return "\n".join([*lines, "", *textwrap.wrap(RULE, WIDTH)]) + "\n"


def matched_data(matched: MatchedScore, *, most: int = MOST_SHOWN) -> dict[str, Any]:
    """Return the same as plain data, ready for JSON; cents as numbers."""
    return {
        "chords": [_chord_data(one, most) for one in matched.chords],
        "taken": len(matched.taken),
        "questions": len(matched.questions),
        "notes": list(matched.notes),
    }


def choice_words(one: MatchedChord, match: Match) -> str:
    """Return what to type to choose a match for a chord."""
    here = one.place
    address = f"part {here.part.id} bar @{here.timeline.bar.index + 1} beat {here.beat}"
    if len({event.voice for event in here.timeline.events}) > 1:
        address += f" voice {here.event.voice}"
    return f"--choose '{address} = {match.sonority.id}'"


def _head(matched: MatchedScore) -> str:
    count = len(matched.chords)
    chords = "1 chord" if count == 1 else f"{count} chords"
    return f"{chords}: {len(matched.taken)} told, {len(matched.questions)} to ask about"


def _chord_lines(one: MatchedChord, most: int) -> Iterator[str]:
    here = one.place
    written = ", ".join(pitch.printed() for pitch in here.chord.written)
    name = here.part.name or here.part.id
    yield f"{name}, bar {here.timeline.bar}, beat {here.beat}: written {written}"
    if one.taken is not None:
        by = "taken by you" if one.is_asked_for else "taken by itself"
        yield from _match_lines(one.taken, f"{_INDENT}{by}: ")
        return
    if not one.matches:
        yield f"{_INDENT}no sonority of the collection has these notes: what is fingered here?"
        return
    for number, match in enumerate(one.matches[:most], start=1):
        yield from _match_lines(match, f"{_INDENT}{number}. ")
        if match.explains_all:
            yield f"{_INDENT}   {choice_words(one, match)}"


def _match_lines(match: Match, lead: str) -> Iterator[str]:
    sonority = match.sonority
    carried = " (only carried over)" if match.is_carried else ""
    facts = f"{sonority.label()}, {sonority.saxophone}{carried}, {sonority.evidence}"
    yield f"{lead}{sonority.id}: {facts}"
    inner = f"{_INDENT}   "
    yield f"{inner}{sonority.fingering.short()}"
    for note in match.notes:
        yield f"{inner}{note.note.printed()} is tone {note.tone}, {_by(note.cents)}"
    for pitch in match.in_addition:
        yield f"{inner}{pitch.printed()} is in addition: {_nearest(match, pitch)}"
    for number in match.not_written:
        presence = sorted({str(word) for word in sonority.tones[number - 1].presence.values()})
        known = f" ({', '.join(presence)})" if presence else ""
        yield f"{inner}tone {number}, {sonority.written(number).printed()}{known}, is not written"
    for words in match.told.words:
        yield from textwrap.wrap(words, WIDTH, initial_indent=inner, subsequent_indent=f"{inner}  ")


def _by(cents: Fraction) -> str:
    if not cents:
        return "exactly"
    return f"which lies {signed_cents_text(cents).replace('-', '−')}¢ from it"


def _nearest(match: Match, pitch: Pitch) -> str:
    numbers = match.sonority.numbers
    nearest = min(numbers, key=lambda n: abs(match.sonority.written(n).cents - pitch.cents))
    gap = match.sonority.written(nearest).cents - pitch.cents
    return f"the nearest is tone {nearest}, {signed_cents_text(gap).replace('-', '−')}¢ from it"


def _chord_data(one: MatchedChord, most: int) -> dict[str, Any]:
    here = one.place
    return {
        "part": here.part.id,
        "bar": here.timeline.bar.label,
        "bar_index": here.timeline.bar.index,
        "beat": here.beat,
        "voice": here.event.voice,
        "written": [str(pitch) for pitch in here.chord.written],
        "texts": list(here.chord.texts),
        "taken": one.taken and one.taken.sonority.id,
        "by_you": one.is_asked_for,
        "matches": [_match_data(one, match) for match in one.matches[:most]],
    }


def _match_data(one: MatchedChord, match: Match) -> dict[str, Any]:
    return {
        "sonority": match.sonority.id,
        "saxophone": match.sonority.saxophone.name,
        "is_carried": match.is_carried,
        "cost": round(match.cost, 3),
        "notes": [
            {"written": str(note.note), "tone": note.tone, "cents": float(note.cents)}
            for note in match.notes
        ],
        "in_addition": [str(pitch) for pitch in match.in_addition],
        "not_written": list(match.not_written),
        "told": list(match.told.words),
        "choice": choice_words(one, match) if match.explains_all else None,
    }

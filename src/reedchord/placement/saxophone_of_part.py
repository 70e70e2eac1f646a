"""Which saxophone a part is for, and whether its notes stand as written or as they sound."""

from __future__ import annotations

import re
from dataclasses import dataclass

from reedchord.errors import RequestError, Where
from reedchord.musicxml.bar_state import Transpose
from reedchord.musicxml.document import Part, Score
from reedchord.saxophones import FAMILY, Saxophone

_NAME_PATTERNS: tuple[tuple[str, str], ...] = (
    ("sopranino", r"sopranino|\bsno"),
    ("contrabass", r"contra-?\s?bass|contrebasse|kontrabass|\bcb\b"),
    ("soprano", r"soprano?|\bsop\b|\bs\.?\s*sax"),
    ("C melody", r"\bc[- ]mel|melody"),
    ("baritone", r"bariton|\bbari?\b|\bb(?:ar)?\.?\s*sax"),
    ("bass", r"\bbass|\bbasse"),
    ("alto", r"alto?\b|\balt\b|\ba\.?\s*sax"),
    ("tenor", r"t[eé]nor|\bten\b|\bt\.?\s*sax"),
)
"""Words by which scores call the members, tried in this order: `bass` is in `contrabass`."""

_SAXOPHONE_WORD = re.compile(r"sax(?:ophone?s?|ofono|ofon|\b|\.)|saxophon", re.IGNORECASE)


@dataclass(frozen=True)
class PartPitch:
    """A part's saxophone, and whether `<pitch>` holds concert pitches."""

    saxophone: Saxophone
    is_concert: bool
    warnings: tuple[str, ...] = ()


def recognised(part: Part) -> Saxophone | None:
    """Return the saxophone that a part's instruments name, by sound and then by name."""
    for instrument in part.instruments:
        for member in FAMILY.values():
            if instrument.sound == member.sound:
                return member
    names = [instrument.name for instrument in part.instruments]
    for name in (part.name, *names, part.abbreviation):
        if _SAXOPHONE_WORD.search(name):
            for member_name, pattern in _NAME_PATTERNS:
                if re.search(pattern, name, re.IGNORECASE):
                    return FAMILY[member_name]
    return None


def is_saxophone_of_unknown_size(part: Part) -> bool:
    """Whether a part is for a saxophone without saying which."""
    sounds = [instrument.sound or "" for instrument in part.instruments]
    names = [part.name, *(instrument.name for instrument in part.instruments)]
    return any("saxophone" in sound for sound in sounds) or any(
        _SAXOPHONE_WORD.search(name) for name in names
    )


def part_pitch(
    score: Score, part: Part, transpose: Transpose | None, said: Saxophone | None = None
) -> PartPitch:
    """Return what a part is for, from what the score says or the user has `said`.

    Raises RequestError when the part is for no saxophone, or does not tell which.
    """
    member = said or recognised(part)
    if member is None:
        raise _not_known(score, part)
    if score.is_marked_concert or transpose is None or transpose == Transpose(0, 0):
        is_c_melody_plain = member.name == "C melody" and transpose == Transpose(0, 0)
        note = f"part {part} has no transposition: pitches are placed as they sound"
        return PartPitch(member, True, () if is_c_melody_plain else (note,))
    return PartPitch(member, False, tuple(_conflicts(part, member, transpose)))


def _conflicts(part: Part, member: Saxophone, transpose: Transpose) -> list[str]:
    found = []
    if transpose.doubled:
        raise RequestError(
            "part.doubled",
            f"part {part} is doubled an octave away (<double>): a sonority would sound twice",
            hint="Take <double> out of the part's <transpose> first.",
            where=Where(part=str(part)),
        )
    if transpose.semitones != member.semitones:
        fits = [m.name for m in FAMILY.values() if m.semitones == transpose.semitones]
        found.append(
            f"part {part} is for {member.name} saxophone but transposes by "
            f"{transpose.semitones} semitones instead of {member.semitones}"
            + (f", as a {fits[0]} saxophone does" if fits else "")
            + ": written pitches are right for the player, playback is not"
        )
    return found


def _not_known(score: Score, part: Part) -> RequestError:
    where = Where(part=str(part))
    choices = ", ".join(FAMILY)
    if is_saxophone_of_unknown_size(part):
        return RequestError(
            "part.which-saxophone",
            "this part is for a saxophone, but does not tell which",
            hint=f"Say it with --saxophone: {choices}.",
            where=where,
        )
    others = [str(other) for other in score.parts if recognised(other)]
    there = f"Saxophone parts: {', '.join(others)}. " if others else ""
    return RequestError(
        "part.no-saxophone",
        "this part is for no saxophone",
        hint=f"{there}If it is one after all, say which with --saxophone: {choices}.",
        where=where,
    )

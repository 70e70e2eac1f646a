"""Which saxophone a part is for, and whether its notes stand as written or as they sound."""

from __future__ import annotations

import re
import unicodedata
from typing import NamedTuple

from reedchord.errors import RequestError, Where
from reedchord.musicxml.bar_state import Transpose
from reedchord.musicxml.document import Part, Score
from reedchord.saxophones import FAMILY, Saxophone

_END = r"(?=\b|sa[xks])"
"""Where a member's name ends, in compounds as `altsaxophon` too."""

_BASS = rf"(?:bass?[eo]?|bajo|baixo){_END}"

_NAME_PATTERNS: dict[str, str] = {
    "sopranino": r"\bsopraa?nino|\bsno\b",
    "soprano": rf"\bsopraa?no?{_END}|\bsop\b|\bs\.? *sax",
    "alto": rf"\b(?:contr)?altt?o?{_END}|\ba\.? *sax",
    "C melody": r"\bc[- ]?mel|\bmelod(?:y|ie)[- ]?sax",
    "tenor": rf"\btenor[ei]?{_END}|\bten\b|\bt\.? *sax",
    "baritone": rf"\bbar[iy]ton[eoi]?{_END}|\bbari?\b",
    "bass": rf"(?<!contra[- ])\b{_BASS}",
    "contrabass": rf"(?<!sub[- ])\b[ck]ontr[ae][- ]?{_BASS}|\bcb\b",
}
"""Words by which scores call the members, without accents and in small letters.

`B. Sax.` is none of them: it may be a baritone or a bass.
"""

_SAXOPHONE_WORD = re.compile(r"sax(?![a-z])|saxes|saxoph|saxof|saksof|sassof")


class PartPitch(NamedTuple):
    """A part's saxophone, and whether `<pitch>` holds concert pitches."""

    saxophone: Saxophone
    is_concert: bool
    warnings: tuple[str, ...] = ()


def recognised(part: Part) -> Saxophone | None:
    """Return the saxophone that a part's instruments name, by sound and then by name.

    A name that tells of two members tells nothing.
    """
    for instrument in part.instruments:
        for member in FAMILY.values():
            if instrument.sound == member.sound:
                return member
    names = [instrument.name for instrument in part.instruments]
    for name in (part.name, *names, part.abbreviation):
        plain = _plain(name)
        if _SAXOPHONE_WORD.search(plain):
            told = [member for member, words in _NAME_PATTERNS.items() if re.search(words, plain)]
            if len(told) == 1:
                return FAMILY[told[0]]
    return None


def _plain(name: str) -> str:
    """Return a name in small letters without accents."""
    parts = unicodedata.normalize("NFD", name)
    return "".join(c for c in parts if not unicodedata.combining(c)).casefold()


def is_saxophone_of_unknown_size(part: Part) -> bool:
    """Whether a part is for a saxophone without saying which."""
    sounds = [instrument.sound or "" for instrument in part.instruments]
    names = [part.name, *(instrument.name for instrument in part.instruments)]
    return any("saxophone" in sound for sound in sounds) or any(
        _SAXOPHONE_WORD.search(_plain(name)) for name in names
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
    if transpose and transpose.doubled:
        raise RequestError(
            "part.doubled",
            f"part {part} is doubled an octave away (<double>): a sonority would sound twice",
            hint="Take <double> out of the part's <transpose> first.",
            where=Where(part=str(part)),
        )
    if score.is_marked_concert or transpose is None or transpose.semitones == 0:
        is_c_melody_plain = member.name == "C melody" and transpose is not None
        note = f"part {part} has no transposition: pitches are placed as they sound"
        return PartPitch(member, True, () if is_c_melody_plain else (note,))
    return PartPitch(member, False, tuple(_conflicts(part, member, transpose)))


def _conflicts(part: Part, member: Saxophone, transpose: Transpose) -> list[str]:
    found = []
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

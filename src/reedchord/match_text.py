"""What the text beside a chord says of a sonority: its name, its number, its fingering."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from reedchord.errors import ReedchordError
from reedchord.fingering import Fingering
from reedchord.fingering_text import parse_fingering
from reedchord.sonority import Sonority

FEWEST_KEYS = 3
"""Text with fewer keys is no fingering of a sonority: single letters and digits name keys too."""
LONGEST_TEXT = 500
_NUMBER = re.compile(r"(?:\b(?:no|nr|num|number)\b\.?|#|№)\s*(\w+)", re.IGNORECASE)


@dataclass(frozen=True)
class Told:
    """What texts say of one sonority.

    `names` is true where one gives its id, its name or its fingering; `words` say what
    each of them gives, and what speaks against it.
    """

    names: bool = False
    numbers: bool = False
    contradicts: bool = False
    words: tuple[str, ...] = ()


def told_by(texts: Sequence[str], sonority: Sonority) -> Told:
    """Return what the texts beside a chord say of a sonority."""
    names = numbers = contradicts = False
    words: list[str] = []
    for text in texts:
        named = _named_in(text, sonority)
        fingering = fingering_in(text)
        if named:
            names = True
            words.append(f"{_quoted(text)} gives its {named}")
        if fingering is not None:
            is_same = fingering == sonority.fingering
            names, contradicts = names or is_same, contradicts or not is_same
            words.append(f"{_quoted(text)} is {'its' if is_same else 'another'} fingering")
        if _number_of(sonority) in _numbers_in(text):
            numbers = True
            words.append(f"{_quoted(text)} gives its number in the source")
    return Told(names, numbers, contradicts, tuple(words))


def names_any(texts: Iterable[str], sonority: Sonority) -> bool:
    """Whether one of the texts gives a sonority's id, name or fingering."""
    return any(
        _named_in(text, sonority) or fingering_in(text) == sonority.fingering for text in texts
    )


@lru_cache(maxsize=4096)
def fingering_in(text: str) -> Fingering | None:
    """Return the fingering that a text is, None where it is none."""
    if len(text) > LONGEST_TEXT:
        return None
    try:
        found = parse_fingering(text)
    except ReedchordError:
        return None
    return found if len(found.keys) >= FEWEST_KEYS else None


def _named_in(text: str, sonority: Sonority) -> str | None:
    folded = " ".join(text.split()).casefold()
    for kind, name in (("id", sonority.id), ("name", sonority.name or "")):
        plain = name.casefold()
        if plain and plain in folded and re.search(rf"(?<!\w){re.escape(plain)}(?!\w)", folded):
            return kind
    return None


@lru_cache(maxsize=4096)
def _numbers_in(text: str) -> frozenset[str]:
    return frozenset(found.casefold() for found in _NUMBER.findall(text[:LONGEST_TEXT]))


def _number_of(sonority: Sonority) -> str:
    number = sonority.source.number if sonority.source else None
    return str(number or "").casefold()


def _quoted(text: str) -> str:
    return f"“{' '.join(text.split())}”"

"""What the text beside a chord says of a sonority: its name, its number, its fingering."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from reedchord.errors import ReedchordError
from reedchord.fingering import Fingering
from reedchord.fingering_text import parse_fingering
from reedchord.sonority import Sonority

FEWEST_KEYS = 3
"""Text with fewer keys is no fingering of a sonority: single letters and digits name keys too."""
LONGEST_TEXT = 500
_WORD = re.compile(r"\w+")
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


class Names:
    """The ids, names and fingerings of sonorities, to be looked up in texts."""

    def __init__(self, sonorities: Iterable[Sonority]) -> None:
        self._by_name: dict[str, list[Sonority]] = {}
        self._by_fingering: dict[Fingering, list[Sonority]] = {}
        self._most_words = 1
        for sonority in sonorities:
            for name in {sonority.id.casefold(), _folded(sonority.name or "")} - {""}:
                self._by_name.setdefault(name, []).append(sonority)
                self._most_words = max(self._most_words, len(_WORD.findall(name)))
            self._by_fingering.setdefault(sonority.fingering, []).append(sonority)

    def named_in(self, texts: Iterable[str]) -> list[Sonority]:
        """Return the sonorities whose id, name or fingering one of the texts gives."""
        found: dict[str, Sonority] = {}
        for text in texts:
            fingering = fingering_in(text)
            named = [self._by_name.get(words, []) for words in self._runs(_folded(text))]
            named += [self._by_fingering.get(fingering, [])] if fingering else []
            found |= {sonority.id: sonority for some in named for sonority in some}
        return list(found.values())

    def _runs(self, text: str) -> Iterator[str]:
        """Yield every run of words that is not longer than the longest name."""
        words = list(_WORD.finditer(text[:LONGEST_TEXT]))
        for index, first in enumerate(words):
            for last in words[index : index + self._most_words]:
                yield text[first.start() : last.end()]


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
    folded = _folded(text)
    for kind, name in (("id", sonority.id), ("name", sonority.name or "")):
        plain = _folded(name)
        if plain and plain in folded and re.search(rf"(?<!\w){re.escape(plain)}(?!\w)", folded):
            return kind
    return None


@lru_cache(maxsize=4096)
def _numbers_in(text: str) -> frozenset[str]:
    return frozenset(found.casefold() for found in _NUMBER.findall(text[:LONGEST_TEXT]))


def _number_of(sonority: Sonority) -> str:
    number = sonority.source.number if sonority.source else None
    return str(number or "").casefold()


def _folded(text: str) -> str:
    return " ".join(text.split()).casefold()


def _quoted(text: str) -> str:
    return f"“{' '.join(text.split())}”"

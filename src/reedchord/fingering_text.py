"""Read a fingering as people write it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from reedchord.errors import InputError
from reedchord.fingering import Amount, Fingering
from reedchord.keywork import KEYS, MAIN_KEYS, Hand, Key, key

_HANDS = {word: hand for hand in Hand for word in (hand.value, hand.value[0], f"{hand.value[0]}h")}
_AMOUNTS = {amount.value: amount for amount in Amount} | {"½": Amount.HALF}
_LIFTED = {"0", "-", "none"}
_BETWEEN = {",", ";", ":", "|", "+", "&", ".", "and", "plus", "with", "hand", "key", "keys"}

_GAP = r"(?:[\s_‐‑]|(?<=\S)-|-(?=\S))"
_FIRST_WORDS = "|".join(
    sorted({first for first, *rest in map(str.split, KEYS) if rest and len(first) > 1})
)
_WORD = rf"""{_GAP}+
    |(?P<word>
        (?:(?:{_FIRST_WORDS}){_GAP}+)?
        [^\W\d_½]+[♯♭\#]*
        (?:{_GAP}+(?:sharp|flat)\b)?
        |.
    )"""


class _Word(NamedTuple):
    """A word, digit or sign of the text, and where it starts, counted from 0."""

    text: str
    start: int

    @property
    def plain(self) -> str:
        return self.text.casefold()


class _Named(NamedTuple):
    """A word that names a key, with the hand and the amount that stand before it."""

    word: _Word
    hand: Hand | None
    amount: Amount


def parse_fingering(text: str) -> Fingering:
    """Read what `Fingering` prints in any of its forms, and friendly variants of it.

    Main keys by number after their hand (`left 1 2`, `LH 12`) or by letter, all others by
    name; `half` or `slightly` before a key; `0`, `-` and `none` for lifted fingers. Raises
    InputError with the word that was not understood and its column.
    """
    line = re.sub(r"\s", " ", text)
    found = re.finditer(_WORD, line, re.VERBOSE | re.IGNORECASE)
    words = [_Word(match["word"], match.start()) for match in found if match["word"]]
    pressed: dict[str, Amount] = {}
    for named in _named_keys(line, words):
        name = _read_key(line, named).name
        if name in pressed:
            raise _misread(line, named.word, f"names {name} again", "Name each key once.")
        pressed[name] = named.amount
    if not pressed and not any(word.plain in _LIFTED for word in words):
        raise InputError(
            "fingering.empty",
            f"{text!r} names no key",
            hint="Write the keys, or for no key at all: left 0 | right 0.",
        )
    return Fingering(tuple(pressed.items()))


def _named_keys(line: str, words: list[_Word]) -> Iterator[_Named]:
    hand: Hand | None = None
    amount: _Word | None = None
    for word in words:
        if word.plain in _AMOUNTS.keys() | _HANDS.keys() | _LIFTED | _BETWEEN:
            if amount:
                raise _amount_alone(line, amount)
            hand = _HANDS.get(word.plain, hand)
            amount = word if word.plain in _AMOUNTS else None
        else:
            yield _Named(word, hand, _AMOUNTS[amount.plain] if amount else Amount.FULL)
            amount = None
    if amount:
        raise _amount_alone(line, amount)


def _read_key(line: str, named: _Named) -> Key:
    word = named.word
    if not word.text.isdecimal():
        try:
            return key(word.text)
        except InputError as error:
            raise _misread(line, word, "is no key", error.hint) from None
    if named.hand is None:
        raise _misread(line, word, "has no hand", "Write left or right before the numbers.")
    known = {str(number): main for (side, number), main in MAIN_KEYS.items() if side is named.hand}
    if word.text not in known:
        raise _misread(
            line, word, "is no main key", f"The {named.hand} hand has 1, 2, 3, and 0 for none."
        )
    return known[word.text]


def _amount_alone(line: str, amount: _Word) -> InputError:
    hint = f"Write it directly before its key: {amount.plain} 2, {amount.plain} G sharp."
    return _misread(line, amount, "belongs to no key", hint)


def _misread(line: str, word: _Word, what: str, hint: str | None) -> InputError:
    pointer = f"{line}\n  {' ' * word.start}{'^' * len(word.text)}"
    return InputError(
        "fingering.text",
        f"{word.text!r} at column {word.start + 1} {what}:\n  {pointer}",
        hint=hint,
    )

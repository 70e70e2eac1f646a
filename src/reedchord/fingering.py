"""A fingering: which keys are pressed and how far, as text, and under the fingers."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from itertools import combinations, pairwise
from typing import NamedTuple

from reedchord import keywork
from reedchord.errors import InputError
from reedchord.keywork import (
    CAN_HOLD_TOGETHER,
    KEYS,
    Availability,
    Finger,
    Group,
    Hand,
    Key,
    exists_on,
)
from reedchord.saxophones import Saxophone, saxophone


class Amount(StrEnum):
    """How far a key is pressed, or its hole covered."""

    FULL = "full"
    HALF = "half"
    SLIGHTLY = "slightly"


_BEFORE_NAME = {Amount.FULL: "", Amount.HALF: "half ", Amount.SLIGHTLY: "slightly "}
_BEFORE_PRINTED_NAME = _BEFORE_NAME | {Amount.HALF: "½"}
_ORDER = {name: position for position, name in enumerate(KEYS)}
_Pressed = tuple[Key, Amount]


@dataclass(frozen=True)
class Fingering:
    """The pressed keys with their amounts, in the order of `keywork.KEYS`.

    Raises InputError for an unknown key and for a key given twice.
    """

    pressed: tuple[tuple[str, Amount], ...] = ()

    def __post_init__(self) -> None:
        named = [(keywork.key(name).name, amount) for name, amount in self.pressed]
        named.sort(key=lambda one: _ORDER[one[0]])
        for (name, _), (following, _) in pairwise(named):
            if name == following:
                raise InputError(
                    "fingering.twice", f"{name} is pressed twice", hint="Name each key once."
                )
        object.__setattr__(self, "pressed", tuple(named))

    @property
    def keys(self) -> tuple[str, ...]:
        """The names of the pressed keys."""
        return tuple(name for name, _ in self.pressed)

    def amount(self, name: str) -> Amount | None:
        """Return how far a key is pressed, None when it is not."""
        return dict(self.pressed).get(keywork.key(name).name)

    def __str__(self) -> str:
        """Return the canonical text: `octave | left 1 2 3, G sharp | right 1 half 2, low C`."""
        sections = [", ".join(map(_label, self._thumb()))]
        for hand in Hand:
            main = " ".join(map(_label, self._main(hand))) or "0"
            sections.append(", ".join([f"{hand} {main}", *map(_label, self._others(hand))]))
        return " | ".join(filter(None, sections))

    def short(self, *, ascii_only: bool = False) -> str:
        """Return the text for print: `octave | L 1 2 3 G♯ | R 1 ½2 - low C`.

        It always holds an ASCII digit and is never a bare number, which some readers of
        MusicXML's `fingering` need.
        """
        before = _BEFORE_NAME if ascii_only else _BEFORE_PRINTED_NAME

        def label(one: _Pressed) -> str:
            key, amount = one
            return before[amount] + (str(key.number or "") or key.short(ascii_only=ascii_only))

        hands = []
        for hand in Hand:
            slots = {key.number: label((key, amount)) for key, amount in self._main(hand)}
            main = [slots.get(number, "-") for number in (1, 2, 3)] if slots else ["0"]
            hands.append(" ".join([hand[0].upper(), *main, *map(label, self._others(hand))]))
        thumb = " ".join(map(label, self._thumb()))
        return " | ".join([*([thumb] if thumb else []), *hands])

    def words(self) -> str:
        """Return the text for a footnote.

        `octave key; left hand 1, 2, 3 and G sharp; right hand 1, half 2 and low C`.
        """
        return _in_words(self)

    def _thumb(self) -> list[_Pressed]:
        return [one for one in self._all() if one[0].group is Group.THUMB]

    def _main(self, hand: Hand) -> list[_Pressed]:
        main = [one for one in self._all() if one[0].group is Group.MAIN]
        return [one for one in main if one[0].hand is hand]

    def _others(self, hand: Hand) -> list[_Pressed]:
        others = [one for one in self._all() if one[0].group not in (Group.THUMB, Group.MAIN)]
        return [one for one in others if one[0].hand is hand]

    def _all(self) -> list[_Pressed]:
        return [(KEYS[name], amount) for name, amount in self.pressed]


@lru_cache(maxsize=1024)
def _in_words(fingering: Fingering) -> str:
    """Return the text for a footnote; remembered, because each place of a sonority has it."""
    sections = [_listed(f"{_label(one)} key" for one in fingering._thumb())]
    for hand in Hand:
        labels = map(_label, [*fingering._main(hand), *fingering._others(hand)])
        sections.append(f"{hand} hand {_listed(labels) or 'none'}")
    return "; ".join(filter(None, sections))


def _label(one: _Pressed) -> str:
    key, amount = one
    return _BEFORE_NAME[amount] + (str(key.number or "") or key.name)


def _listed(items: Iterable[str]) -> str:
    *first, last = [*items] or [""]
    return f"{', '.join(first)} and {last}" if first else last


def unknown_keys(fingering: Fingering, saxophone_name: str) -> list[str]:
    """Return the keys that no instrument of this member of the family has."""
    return _keys_that_exist(fingering, saxophone_name, Availability.NEVER)


def uncertain_keys(fingering: Fingering, saxophone_name: str) -> list[str]:
    """Return the keys that only some instruments of this member of the family have."""
    return _keys_that_exist(fingering, saxophone_name, Availability.SOME)


def _keys_that_exist(fingering: Fingering, saxophone_name: str, wanted: Availability) -> list[str]:
    member = saxophone(saxophone_name).name
    return [name for name in fingering.keys if exists_on(KEYS[name], member) is wanted]


class FingerWarning(NamedTuple):
    """One finger on keys that it does not commonly hold together."""

    finger: Finger
    keys: tuple[str, ...]
    message: str


def finger_warnings(fingering: Fingering) -> list[FingerWarning]:
    """Return a warning for every finger with keys that are hard or unusual to hold together.

    A key goes to another finger that works it when that one can hold it with its own keys.
    """
    under: dict[Finger, list[str]] = {}
    # Keys with one finger only come first; no two of the others can share a finger, so it
    # does not matter which of them chooses first.
    for name in sorted(fingering.keys, key=lambda name: len(KEYS[name].other_fingers)):
        key = KEYS[name]
        choices = (key.finger, *key.other_fingers)
        fits = (finger for finger in choices if _can_hold([*under.get(finger, []), name]))
        under.setdefault(next(fits, key.finger), []).append(name)
    warnings = []
    for finger in Finger:
        names = sorted(under.get(finger, []), key=_ORDER.__getitem__)
        if not _can_hold(names):
            warnings.append(FingerWarning(finger, tuple(names), _hard_to_hold(finger, names)))
    return warnings


def fingering_remarks(fingering: Fingering, member: Saxophone | None) -> list[str]:
    """Return sentences on what is unusual in a fingering but may be right; the player decides."""
    uncertain = uncertain_keys(fingering, member.name) if member else []
    return [
        *(warning.message for warning in finger_warnings(fingering)),
        *(f"not every {member} has the {name} key" for name in uncertain),
    ]


def _can_hold(names: Iterable[str]) -> bool:
    return all(frozenset(pair) in CAN_HOLD_TOGETHER for pair in combinations(names, 2))


def _hard_to_hold(finger: Finger, names: list[str]) -> str:
    return (
        f"{finger.words()} on {_listed(names)}: one finger does not commonly hold them "
        "together; hard or unusual, ask the player"
    )

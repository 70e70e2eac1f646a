"""The keys of the saxophone as one table: which finger works each, and where it exists.

Every fact here is common practice, no source; makers differ in detail.
"""

from __future__ import annotations

import re
from enum import StrEnum
from typing import NamedTuple

from reedchord.errors import InputError, did_you_mean


class Hand(StrEnum):
    """A hand of the player."""

    LEFT = "left"
    RIGHT = "right"


class Finger(StrEnum):
    """A finger of the player; the palm counts as a part of the left index finger."""

    LEFT_THUMB = "left thumb"
    LEFT_INDEX = "left index"
    LEFT_MIDDLE = "left middle"
    LEFT_RING = "left ring"
    LEFT_LITTLE = "left little"
    RIGHT_INDEX = "right index"
    RIGHT_MIDDLE = "right middle"
    RIGHT_RING = "right ring"
    RIGHT_LITTLE = "right little"
    RIGHT_THUMB = "right thumb"

    @property
    def hand(self) -> Hand:
        """The hand that this finger belongs to."""
        return Hand(self.value.split()[0])

    def words(self) -> str:
        """Return the finger as it is spoken: `left thumb`, `left little finger`."""
        return self.value if self.value.endswith("thumb") else f"{self.value} finger"


class Group(StrEnum):
    """Where a key lies under the hands."""

    THUMB = "thumb"
    MAIN = "main"
    BESIDE = "beside"
    """Beside a main key and worked by a main finger: bis, front F, alternate F sharp."""
    PALM = "palm"
    SIDE = "side"
    TABLE = "table"
    """Under a little finger."""


class Availability(StrEnum):
    """On how many instruments of one member of the family a key is found; NEVER is falsy."""

    EVERY = "every"
    SOME = "some"
    NEVER = "never"

    def __bool__(self) -> bool:
        return self is not Availability.NEVER


class Key(NamedTuple):
    """One key.

    `finger` usually works it, `other_fingers` can take it over; `stands_open` tells a key
    that closes its hole when pressed from one that opens it; `number` counts the main keys
    of a hand from 1 to 3. `only_on` names the members that can have the key, empty for all;
    `on_every` is false where some instruments lack it.
    """

    name: str
    finger: Finger
    group: Group
    stands_open: bool
    number: int | None = None
    other_fingers: tuple[Finger, ...] = ()
    only_on: tuple[str, ...] = ()
    on_every: bool = True

    @property
    def hand(self) -> Hand:
        """The hand that works the key."""
        return self.finger.hand

    def short(self, *, ascii_only: bool = False) -> str:
        """Return the name with its accidental as a sign: `low C♯`, `E♭`, in ASCII `Eb`."""
        sharp, flat = ("#", "b") if ascii_only else ("♯", "♭")
        return self.name.replace(" sharp", sharp).replace(" flat", flat)


_OPENS, _CLOSES = False, True
_MIDDLE_TOO = (Finger.RIGHT_MIDDLE,)

_KEYS = (
    Key("octave", Finger.LEFT_THUMB, Group.THUMB, _OPENS),
    Key("low A", Finger.LEFT_THUMB, Group.THUMB, _CLOSES, only_on=("baritone",), on_every=False),
    Key("B", Finger.LEFT_INDEX, Group.MAIN, _CLOSES, 1),
    Key("bis", Finger.LEFT_INDEX, Group.BESIDE, _CLOSES),
    Key("front F", Finger.LEFT_INDEX, Group.BESIDE, _OPENS),
    Key("palm D", Finger.LEFT_INDEX, Group.PALM, _OPENS),
    Key("palm E flat", Finger.LEFT_INDEX, Group.PALM, _OPENS),
    Key("palm F", Finger.LEFT_INDEX, Group.PALM, _OPENS),
    Key("A", Finger.LEFT_MIDDLE, Group.MAIN, _CLOSES, 2),
    Key("G", Finger.LEFT_RING, Group.MAIN, _CLOSES, 3),
    Key("G sharp", Finger.LEFT_LITTLE, Group.TABLE, _OPENS),
    Key("low C sharp", Finger.LEFT_LITTLE, Group.TABLE, _OPENS),
    Key("low B", Finger.LEFT_LITTLE, Group.TABLE, _CLOSES),
    Key("low B flat", Finger.LEFT_LITTLE, Group.TABLE, _CLOSES),
    Key("F", Finger.RIGHT_INDEX, Group.MAIN, _CLOSES, 1),
    Key("side B flat", Finger.RIGHT_INDEX, Group.SIDE, _OPENS),
    Key("side C", Finger.RIGHT_INDEX, Group.SIDE, _OPENS),
    Key("side E", Finger.RIGHT_INDEX, Group.SIDE, _OPENS),
    Key("E", Finger.RIGHT_MIDDLE, Group.MAIN, _CLOSES, 2),
    Key("D", Finger.RIGHT_RING, Group.MAIN, _CLOSES, 3),
    Key(
        "alternate F sharp",
        Finger.RIGHT_RING,
        Group.BESIDE,
        _OPENS,
        other_fingers=_MIDDLE_TOO,
    ),
    Key(
        "high F sharp",
        Finger.RIGHT_RING,
        Group.BESIDE,
        _OPENS,
        other_fingers=_MIDDLE_TOO,
        on_every=False,
    ),
    Key(
        "high G",
        Finger.RIGHT_RING,
        Group.BESIDE,
        _OPENS,
        other_fingers=_MIDDLE_TOO,
        only_on=("soprano",),
        on_every=False,
    ),
    Key("E flat", Finger.RIGHT_LITTLE, Group.TABLE, _OPENS),
    Key("low C", Finger.RIGHT_LITTLE, Group.TABLE, _CLOSES),
)

KEYS: dict[str, Key] = {key.name: key for key in _KEYS}
"""Every key by its name: thumb, left hand from the top down, right hand from the top down."""

MAIN_KEYS: dict[tuple[Hand, int], Key] = {
    (key.hand, key.number): key for key in _KEYS if key.number is not None
}
"""The six main keys by hand and number."""

CAN_HOLD_TOGETHER: frozenset[frozenset[str]] = frozenset(
    frozenset(pair)
    for pair in (
        ("B", "bis"),
        ("G sharp", "low C sharp"),
        ("low C sharp", "low B"),
        ("low B", "low B flat"),
        ("E flat", "low C"),
        ("palm D", "palm E flat"),
        ("palm E flat", "palm F"),
        # Not neighbours, but the ordinary high F presses all three palm keys.
        ("palm D", "palm F"),
    )
)
"""The pairs of keys that one finger commonly holds; any other pair is hard or unusual."""


def exists_on(key: Key, saxophone_name: str) -> Availability:
    """Tell whether every, some or no instrument of this member of the family has the key."""
    if key.only_on and saxophone_name not in key.only_on:
        return Availability.NEVER
    return Availability.EVERY if key.on_every else Availability.SOME


def key(name: str) -> Key:
    """Return the key with this name: `low C sharp`, `low C♯`, `Low-C#`, `Eb`, `D sharp`.

    Raises InputError with near names.
    """
    plain = _plain(name)
    for known in _KEYS:
        if known.name.casefold() == plain:
            return known
    raise InputError("key.unknown", f"{name!r} is no key", hint=_near_keys(plain))


_SAME_SOUND = {
    "a flat": "g sharp",
    "a sharp": "b flat",
    "d flat": "c sharp",
    "d sharp": "e flat",
    "g flat": "f sharp",
}


def _plain(name: str) -> str:
    text = name.casefold().replace("♯", " sharp").replace("#", " sharp").replace("♭", " flat")
    text = " ".join(re.split(r"[\s_‐‑-]+", text)).strip().removesuffix(" key")
    text = re.sub(r"\b([a-g])(?:b|flat)\b", r"\1 flat", text)
    text = re.sub(r"\b([a-g])sharp\b", r"\1 sharp", text)
    for other, ours in _SAME_SOUND.items():
        text = re.sub(rf"\b{other}$", ours, text)
    return text


def _near_keys(plain: str) -> str:
    """Return a hint: the keys whose words begin like the wanted ones, else similar names."""
    wanted = plain.split()
    near = [name for name in KEYS if wanted and _begins_words_of(wanted, name)]
    return did_you_mean(plain, near or KEYS)


def _begins_words_of(wanted: list[str], name: str) -> bool:
    words = name.casefold().split()
    return all(any(word.startswith(beginning) for word in words) for beginning in wanted)

"""Fingerings one or two changes away from a known one, to be tried.

Nothing here tells what a fingering sounds: a trial does. What makes one easy, and what is
left out, is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import combinations

from reedchord.errors import RequestError
from reedchord.exploring.ordinary_fingerings import ordinary_notes
from reedchord.fingering import Amount, Fingering, finger_warnings, uncertain_keys
from reedchord.fingering_change import ChangeDifficulty, change_difficulty
from reedchord.keywork import KEYS, Group, exists_on
from reedchord.pitch import Pitch
from reedchord.saxophones import Saxophone
from reedchord.sonority import Sonority

MOST_CHANGES = 2


ONLY_A_TRIAL = (
    "Nobody says that these speak, or what they sound: steady air, a soft start, and a few calm "
    "tries tell. Some only shade the ordinary note."
)


class Kind(StrEnum):
    """What is done with one key."""

    LIFT = "lift"
    ADD = "add"
    HALF = "half open"
    CLOSE = "close"
    """Presses further what was pressed in part."""


EASE: dict[Kind, int] = {Kind.LIFT: 0, Kind.ADD: 1, Kind.CLOSE: 1, Kind.HALF: 4}
"""Added to what the fingers cost: half a hole is hard to find again, above all for beginners."""

COST_OF_RARE_KEY = 6
"""Added where some instruments lack a key."""

COST_OF_PALM = 4
"""Added where the palm presses a key while the index finger stays on its own."""

PALM_BESIDE_FINGER = "the palm presses while left 1 stays down"

_CAN_BE_HALF = (Group.MAIN, Group.PALM)
"""Keys that can be covered or pressed in part with any aim."""


@dataclass(frozen=True)
class KeyChange:
    """One change of one key."""

    kind: Kind
    key: str

    def words(self) -> str:
        """Return the change as it is spoken: `lift right 1`, `add side C`, `half open left 1`."""
        key = KEYS[self.key]
        name = f"{key.hand} {key.number}" if key.number else key.short()
        return f"{self.kind} {name}"

    def family(self) -> str:
        """Return what this change has in common with its near relatives, in words."""
        key = KEYS[self.key]
        if self.kind is Kind.LIFT and key.group is Group.MAIN:
            return f"lift a finger of the {key.hand} hand"
        return _FAMILIES[self.kind].format(what=_WHAT[key.group])


_FAMILIES = {
    Kind.LIFT: "leave {what}",
    Kind.ADD: "add {what}",
    Kind.CLOSE: "press {what} further",
    Kind.HALF: "open {what} by half",
}
_WHAT = {
    Group.THUMB: "a thumb key",
    Group.MAIN: "a main key",
    Group.BESIDE: "a key beside the main ones",
    Group.PALM: "a palm key",
    Group.SIDE: "a side key",
    Group.TABLE: "a key of the little finger",
}


@dataclass(frozen=True)
class ToTry:
    """A fingering to be tried: the changes that lead to it, and how hard they are."""

    fingering: Fingering
    changes: tuple[KeyChange, ...]
    difficulty: ChangeDifficulty
    effort: int
    """What it costs in all, by which they are ordered."""
    remarks: tuple[str, ...]
    """What to mind, in clauses."""

    def words(self) -> str:
        """Return the changes in words."""
        return " and ".join(change.words() for change in self.changes)


@dataclass(frozen=True)
class Family:
    """Near relatives: fingerings that share a kind of change, easiest first."""

    words: str
    members: tuple[ToTry, ...]


@dataclass(frozen=True)
class Exploration:
    """Fingerings to be tried from one fingering, the easiest families first.

    `found` counts all that there are, `known` those that are left out because the
    collection has them.
    """

    saxophone: Saxophone
    home: Fingering
    start: Pitch | str
    """What was started from: a written pitch, the id of a sonority, or a fingering in short."""
    families: tuple[Family, ...]
    found: int
    known: int

    @property
    def called(self) -> str:
        """What was started from, as the reader names pitches: `G4`, or the id of a sonority."""
        return self.start.printed() if isinstance(self.start, Pitch) else self.start

    @property
    def to_try(self) -> tuple[ToTry, ...]:
        """All fingerings in their order."""
        return tuple(one for family in self.families for one in family.members)


def explore(
    home: Fingering,
    saxophone: Saxophone,
    *,
    start: Pitch | str = "",
    changes: int = MOST_CHANGES,
    most: int | None = None,
    collection: Iterable[Sonority] = (),
) -> Exploration:
    """Return fingerings up to so many changes away that one hand can hold.

    Left out are ordinary fingerings, those of the collection, and those that differ only in
    what makes no difference. With `most`, the easiest so many. Raises RequestError for more
    changes than `MOST_CHANGES`.
    """
    if not 1 <= changes <= MOST_CHANGES:
        raise RequestError(
            "explore.changes", f"{changes} changes are not looked for", hint="Ask for 1 or 2."
        )
    known = {one.fingering for one in collection if one.saxophone == saxophone}
    ordinary = {f for note in ordinary_notes(saxophone) for f in note.fingerings}
    singles = list(_single_changes(home, saxophone))
    found: dict[Fingering, ToTry] = {}
    met: set[Fingering] = set()
    for made in _combined(singles, changes):
        fingering = _changed(home, made)
        if fingering == home or fingering in ordinary or fingering in found:
            continue
        if not _can_be_held(fingering) or _adds_nothing(fingering, made):
            continue
        if fingering in known:
            met.add(fingering)
            continue
        found[fingering] = _to_try(home, fingering, made, saxophone)
    easiest = sorted(found.values(), key=_effort)[:most]
    families = tuple(_families(easiest))
    return Exploration(saxophone, home, start or str(home), families, len(found), len(met))


def _single_changes(home: Fingering, saxophone: Saxophone) -> Iterator[KeyChange]:
    pressed = dict(home.pressed)
    for name, key in KEYS.items():
        if name in pressed:
            yield KeyChange(Kind.LIFT, name)
            if pressed[name] is not Amount.FULL:
                yield KeyChange(Kind.CLOSE, name)
            elif key.group in _CAN_BE_HALF:
                yield KeyChange(Kind.HALF, name)
        elif exists_on(key, saxophone.name):
            yield KeyChange(Kind.ADD, name)


def _combined(singles: Sequence[KeyChange], changes: int) -> Iterator[tuple[KeyChange, ...]]:
    for count in range(1, changes + 1):
        for made in combinations(singles, count):
            if len({change.key for change in made}) == count:
                yield made


_AMOUNT_AFTER = {Kind.ADD: Amount.FULL, Kind.CLOSE: Amount.FULL, Kind.HALF: Amount.HALF}


def _changed(home: Fingering, made: Iterable[KeyChange]) -> Fingering:
    pressed = dict(home.pressed)
    for change in made:
        if change.kind is Kind.LIFT:
            del pressed[change.key]
        else:
            pressed[change.key] = _AMOUNT_AFTER[change.kind]
    return Fingering(tuple(pressed.items()))


_NO_DIFFERENCE: dict[str, tuple[str, ...]] = {
    "G sharp": ("low C sharp", "low B", "low B flat", "F", "E", "D"),
    "bis": ("A",),
}
"""Keys that make no difference where one of these is pressed.

The right hand holds G sharp closed and the low keys carry it along; A closes the hole of bis.
"""


def _adds_nothing(fingering: Fingering, made: Iterable[KeyChange]) -> bool:
    return any(
        change.kind is Kind.ADD and name in fingering.keys
        for change in made
        for name in _NO_DIFFERENCE.get(change.key, ())
    )


def _can_be_held(fingering: Fingering) -> bool:
    return all(_is_palm_beside_finger(one.keys) for one in finger_warnings(fingering))


def _is_palm_beside_finger(names: Sequence[str]) -> bool:
    """Tell whether the index finger stays on its main key while the palm presses one of its own."""
    palm = [name for name in names if KEYS[name].group is Group.PALM]
    return len(palm) == 1 and all(name in ("B", "bis", *palm) for name in names)


def _to_try(
    home: Fingering, fingering: Fingering, made: tuple[KeyChange, ...], saxophone: Saxophone
) -> ToTry:
    difficulty = change_difficulty(home, fingering)
    rare = tuple(uncertain_keys(fingering, saxophone.name))
    effort = difficulty.score + sum(EASE[change.kind] for change in made)
    palm = bool(finger_warnings(fingering))
    effort += COST_OF_RARE_KEY * len(rare) + (COST_OF_PALM if palm else 0)
    remarks = [f"not every instrument has {' and '.join(rare)}"] if rare else []
    remarks += [PALM_BESIDE_FINGER] if palm else []
    return ToTry(fingering, made, difficulty, effort, tuple(remarks))


def _effort(one: ToTry) -> tuple[int, int, str]:
    return one.effort, len(one.changes), str(one.fingering)


def _families(easiest: Iterable[ToTry]) -> Iterator[Family]:
    """Put each fingering into the smallest family that it belongs to, so that none takes all."""
    families: dict[str, list[ToTry]] = {}
    for one in easiest:
        names = [change.family() for change in one.changes]
        shared = min(names, key=lambda name: len(families.get(name, ())))
        families.setdefault(shared, []).append(one)
    yield from (Family(words, tuple(members)) for words, members in families.items())

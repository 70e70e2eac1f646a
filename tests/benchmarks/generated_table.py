"""Very many generated sonorities with all that can be wished for, made without validation."""

from __future__ import annotations

import random
from fractions import Fraction

from reedchord.collection import Collection
from reedchord.dynamics import SCALE, DynamicRange
from reedchord.fingering import Amount, Fingering
from reedchord.keywork import KEYS, Group
from reedchord.pitch import pitch_from_cents
from reedchord.rhythm import NoteValue, Rate
from reedchord.saxophones import FAMILY
from reedchord.sonority import Sonority
from reedchord.sonority_fields import (
    Articulation,
    Closeness,
    Evidence,
    Limit,
    Neighbour,
    Presence,
    Tone,
)

MEMBERS = tuple(FAMILY.values())
MAIN = [name for name, key in KEYS.items() if key.group is Group.MAIN]
OTHERS = [name for name in KEYS if name not in MAIN]
AMOUNTS = (*[Amount.FULL] * 9, Amount.HALF)
VALUES = tuple(map(NoteValue, ("quarter", "eighth", "16th")))


def generated(count: int) -> Collection:
    """Return sonorities of two to six tones over four octaves, for the whole family."""
    dice = random.Random(5)
    records = {f"s{number}": _sonority(f"s{number}", count, dice) for number in range(count)}
    return Collection(records, {}, "generated")


def _sonority(name: str, count: int, dice: random.Random) -> Sonority:
    heights = sorted(dice.sample(range(49_00, 98_00), dice.randint(2, 6)))
    softest = dice.randint(1, 6)
    marks = SCALE[softest : dice.randint(softest, 8) + 1]
    if dice.random() < 0.2:
        marks = ()  # nobody has said
    keys = dice.sample(MAIN, dice.randint(2, 6)) + dice.sample(OTHERS, dice.randint(0, 3))
    ways = dice.sample(list(Articulation), dice.randint(0, 2))
    near = {f"s{dice.randrange(count)}" for _ in range(dice.randint(0, 2))} - {name}
    return Sonority.model_construct(
        id=name,
        saxophone=dice.choice(MEMBERS),
        fingering=Fingering(tuple((key, dice.choice(AMOUNTS)) for key in keys)),
        tones=tuple(_tone(height, marks, dice) for height in heights),
        emphasised=dice.choice([None, dice.randint(1, len(heights))]),
        evidence=dice.choice(list(Evidence)),
        limits=tuple(_limit(way, marks, dice) for way in ways),
        neighbours=tuple(
            Neighbour.model_construct(sonority=other, because=dice.choice(list(Closeness)))
            for other in sorted(near)
        ),
    )


def _tone(height: int, marks, dice: random.Random) -> Tone:
    return Tone.model_construct(
        written=pitch_from_cents(Fraction(height)),
        presence={mark: dice.choice(list(Presence)) for mark in marks},
    )


def _limit(way: Articulation, marks, dice: random.Random) -> Limit:
    fastest = Rate(dice.choice(VALUES), NoteValue("quarter"), Fraction(dice.randint(40, 140)))
    dynamics = DynamicRange(marks[0], marks[-1]) if marks and dice.random() < 0.5 else None
    return Limit.model_construct(articulation=way, fastest=fastest, dynamics=dynamics)

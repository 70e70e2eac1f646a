"""Very many invented sonorities, the same ones in every run, for measurements."""

from __future__ import annotations

import random

from reedchord.collection import Collection
from reedchord.pitch import pitch_from_cents
from reedchord.sonority import Sonority

LEFT = ("1 2 3", "1 2", "1 3", "2 3", "1", "1 half 2 3")
LEFT_LITTLE = ("", ", G sharp", ", low C sharp", ", low B", ", low B flat")
RIGHT = ("1 2 3", "1 2", "1 3", "2 3", "1", "2", "3", "1 half 2 3")
RIGHT_LITTLE = ("", ", E flat", ", low C")
SPEEDS = ("quarter at quarter = 80", "eighth at quarter = 80", "16th at quarter = 72")
LOWEST_CENTS, HIGHEST_CENTS = 5800, 8900


def _sonority(number: int, count: int, dice: random.Random) -> Sonority:
    heights = sorted(dice.sample(range(LOWEST_CENTS, HIGHEST_CENTS), dice.randint(2, 5)))
    fingering = (
        f"{dice.choice(('', 'octave | '))}left {dice.choice(LEFT)}{dice.choice(LEFT_LITTLE)}"
        f" | right {dice.choice(RIGHT)}{dice.choice(RIGHT_LITTLE)}"
    )
    near = [one for one in dice.sample(range(count), 2) if one != number]
    return Sonority.model_validate(
        {
            "id": f"s{number}",
            "saxophone": "alto",
            "fingering": fingering,
            "tones": [
                {"written": str(pitch_from_cents(cents)), "presence": {"p-f": "clear"}}
                for cents in heights
            ],
            "emphasised": 1,
            "limits": [{"articulation": "single tongue", "fastest": dice.choice(SPEEDS)}],
            "neighbours": [{"sonority": f"s{one}", "because": "embouchure"} for one in near],
            "evidence": "invented",
        }
    )


def generated_collection(count: int, seed: int = 5) -> Collection:
    """Return a collection of so many sonorities for alto."""
    dice = random.Random(seed)
    records = [_sonority(number, count, dice) for number in range(count)]
    return Collection({record.id: record for record in records}, {}, f"{count} generated")

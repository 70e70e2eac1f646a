"""Hold one sonority against a wish: what meets what, what it costs, and why.

The costs are ours: cents of deviation, and what else counts measured against them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import product
from typing import NamedTuple

from reedchord.choosing.assignment import best_assignment
from reedchord.choosing.search_conditions import (
    Heard,
    Search,
    Verdict,
    heard_tones,
    silent_tones,
    verdicts,
)
from reedchord.choosing.search_wish import Wish, deviation_cents
from reedchord.choosing.whole_parts import common_parts, gaps_in_parts, in_parts
from reedchord.pitch import Pitch
from reedchord.sonority import Sonority
from reedchord.sonority_fields import Presence

COST_OF_PRESENCE: dict[Presence | None, int] = {
    Presence.DOMINANT: 0,
    Presence.CLEAR: 5,
    None: 10,
    Presence.FAINT: 25,
}
"""What a tone that meets a wish costs beside its cents; None where presence is not known."""

COST_OF_SURPLUS: dict[Presence | None, int] = {
    Presence.DOMINANT: 30,
    Presence.CLEAR: 20,
    None: 20,
    Presence.FAINT: 8,
}
"""What a tone costs that nobody wished for."""

COST_OF_MISSING = 150
"""What a wish costs, beside the tolerance, that no tone meets."""
COST_OF_OTHER_EMPHASIS = 40
"""What it costs where another tone than the wished one, or none, is brought out."""


class Meeting(NamedTuple):
    """A wished pitch and the tone that meets it, `cents` above the wish."""

    wish: Pitch
    tone: Heard
    cents: Fraction


class Missing(NamedTuple):
    """A wished pitch that no tone meets, with the nearest of the tones that meet no other."""

    wish: Pitch
    nearest: Meeting | None


@dataclass(frozen=True)
class Judged:
    """A sonority against a wish: what meets what, what is missing, what sounds in addition.

    `in_addition` are all tones where no pitch is wished. `cost` ranks, the least first;
    `notes` tell of the other wishes, `ruled_out` which of them it fails.
    """

    sonority: Sonority
    cost: float
    met: tuple[Meeting, ...]
    missing: tuple[Missing, ...]
    in_addition: tuple[Heard, ...]
    notes: tuple[Verdict, ...]
    ruled_out: tuple[Verdict, ...]

    @property
    def gaps(self) -> tuple[int, float]:
        """How many missing pitches have no tone near at all, and cents to those that have."""
        cents = [abs(missing.nearest.cents) for missing in self.missing if missing.nearest]
        return len(self.missing) - len(cents), float(sum(cents))


def judge(search: Search, sonority: Sonority) -> Judged:
    """Hold one sonority against a wish."""
    wish = search.wish
    heard = heard_tones(sonority, wish)
    met, missing, cents = _meetings(wish, heard)
    taken = {meeting.tone.number for meeting in met}
    in_addition = tuple(tone for tone in heard if tone.number not in taken)
    said = [
        *_wanted_pitches(wish, met),
        *_emphasis(wish, sonority, met),
        *_silent(wish, sonority, missing),
        *verdicts(search, sonority, heard),
    ]
    # Added up exactly and rounded once: the same cost is the same number, in any order.
    points = sum(verdict.cost for verdict in said)
    if wish.wanted:
        points += sum(COST_OF_PRESENCE[meeting.tone.presence] for meeting in met)
        points += sum(COST_OF_SURPLUS[tone.presence] for tone in in_addition)
        points += len(missing) * COST_OF_MISSING
    notes = tuple(verdict for verdict in said if not verdict.rules_out)
    ruled_out = tuple(verdict for verdict in said if verdict.rules_out)
    return Judged(sonority, float(cents + points), met, missing, in_addition, notes, ruled_out)


def _meetings(
    wish: Wish, heard: tuple[Heard, ...]
) -> tuple[tuple[Meeting, ...], tuple[Missing, ...], Fraction]:
    """Give each wished pitch a tone of its own within the tolerance, at the least total cost.

    Returns as well the cents of all, the tolerance for a missing one.
    """
    wanted = wish.wanted
    if not wanted:
        return (), (), Fraction(0)
    wished, tones = [pitch.cents for pitch in wanted], [tone.cents for tone in heard]
    # Counted in whole parts of a cent, which are as exact as fractions and added up faster.
    parts = common_parts((wish.within_cents, *wished, *tones))
    heights, (within,) = in_parts(tones, parts), in_parts([wish.within_cents], parts)
    gaps = [
        gaps_in_parts(height, heights, parts, pitch_class=wish.pitch_class)
        for height in in_parts(wished, parts)
    ]
    missing_cost = within + parts * COST_OF_MISSING
    chosen = best_assignment(_costs(gaps, heard, parts, within), missing_cost)

    def meeting(row: int, column: int) -> Meeting:
        return Meeting(wanted[row], heard[column], Fraction(gaps[row][column], parts))

    met = [meeting(row, column) for row, column in enumerate(chosen) if column is not None]
    free = [column for column in range(len(heard)) if column not in chosen]
    missing = []
    for row, pitch in enumerate(wanted):
        if chosen[row] is None:
            nearest = min(free, key=list(map(abs, gaps[row])).__getitem__, default=None)
            missing.append(Missing(pitch, None if nearest is None else meeting(row, nearest)))
    cents = sum(
        within if column is None else abs(gap[column])
        for gap, column in zip(gaps, chosen, strict=True)
    )
    return tuple(met), tuple(missing), Fraction(cents, parts)


def _costs(
    gaps: list[list[int]], heard: tuple[Heard, ...], parts: int, within: int
) -> list[list[int | None]]:
    more = [parts * COST_OF_PRESENCE[tone.presence] for tone in heard]
    return [
        [gap + other if gap <= within else None for gap, other in zip(row, more, strict=True)]
        for row in (map(abs, gaps_of_one) for gaps_of_one in gaps)
    ]


def _wanted_pitches(wish: Wish, met: tuple[Meeting, ...]) -> Iterator[Verdict]:
    if wish.pitches and not met:
        name = "written" if wish.written else "concert"
        yield Verdict(name, "no tone meets a wished pitch", rules_out=True)


def _emphasis(wish: Wish, sonority: Sonority, met: tuple[Meeting, ...]) -> Iterator[Verdict]:
    if wish.emphasised is None:
        return
    index = wish.emphasised_index
    wished = wish.emphasised if index is None else wish.wanted[index]
    tone = next((meeting.tone for meeting in met if meeting.wish == wished), None)
    if tone is None:
        words = f"no tone to bring out for {wish.words_for(wished)}"
        yield Verdict("emphasised", words, rules_out=True)
    elif tone.number == sonority.emphasised_number:
        yield Verdict("emphasised", f"tone {tone.number} is the one that it brings out")
    else:
        own = sonority.emphasised_number
        words = f"it brings out tone {own}" if own else "it brings out no tone"
        told = f"{words}; whether tone {tone.number} can be is for a trial"
        yield Verdict("emphasised", told, cost=COST_OF_OTHER_EMPHASIS)


def _silent(wish: Wish, sonority: Sonority, missing: tuple[Missing, ...]) -> Iterator[Verdict]:
    """Tell which missing pitches the sonority has, only not at the wished dynamic."""
    if wish.dynamic is None:
        return
    for tone, lacking in product(silent_tones(sonority, wish), missing):
        gap = deviation_cents(lacking.wish.cents, tone.cents, pitch_class=wish.pitch_class)
        if abs(gap) <= wish.within_cents:
            words = f"tone {tone.number} would meet {wish.words_for(lacking.wish)}, but is absent"
            yield Verdict("dynamic", f"{words} at {wish.dynamic}")

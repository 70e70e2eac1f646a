"""What a composer wishes of a sonority; impossible wishes are refused."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import product

from reedchord.dynamics import Dynamic
from reedchord.errors import ReedchordError, RequestError, raise_all
from reedchord.pitch import CENTS_PER_OCTAVE, Pitch, cents_text
from reedchord.rhythm import Rate
from reedchord.saxophones import Saxophone
from reedchord.sonority_fields import Articulation, Evidence

MOST_TONES = 12
MAX_WITHIN_CENTS = 600
DEFAULT_WITHIN_CENTS = Fraction(50)


@dataclass(frozen=True)
class Wish:
    """What a sonority should have; what is left out may be anything.

    `pitches`, `emphasised`, `highest` and `lowest` are concert pitches, or written ones where
    `written` is true; `avoid` holds concert pitches. `intervals` are counted in semitones, each
    wanted between some two tones. With `pitch_class` octaves do not count. A pitch within
    `within_cents` of a tone is met by it. Without `articulation` every way counts but the
    slur. Raises RequestError for what can never be met.
    """

    pitches: tuple[Pitch, ...] = ()
    written: bool = False
    emphasised: Pitch | None = None
    pitch_class: bool = False
    intervals: tuple[Fraction, ...] = ()
    highest: Pitch | None = None
    lowest: Pitch | None = None
    tone_count: int | None = None
    within_cents: Fraction = DEFAULT_WITHIN_CENTS
    saxophones: tuple[Saxophone, ...] = ()
    dynamic: Dynamic | None = None
    speed: Rate | None = None
    articulation: Articulation | None = None
    evidence: Evidence | None = None
    connects_to: str | None = None
    avoid: tuple[Pitch, ...] = ()
    avoid_within_cents: Fraction = DEFAULT_WITHIN_CENTS

    def __post_init__(self) -> None:
        impossible = [RequestError("find.impossible", words) for words in _impossible(self)]
        raise_all(list[ReedchordError](impossible))

    @property
    def is_empty(self) -> bool:
        """Tell whether nothing is wished, whatever the tolerances are."""
        empty = Wish(written=self.written, pitch_class=self.pitch_class)
        return self == replace(
            empty, within_cents=self.within_cents, avoid_within_cents=self.avoid_within_cents
        )

    @property
    def asks_for_speed(self) -> bool:
        """Tell whether it matters how fast it can be articulated, or in which way."""
        return self.speed is not None or self.articulation is not None

    @property
    def wanted(self) -> tuple[Pitch, ...]:
        """The wished pitches, with the emphasised one where it is not among them."""
        if self.emphasised is None or self.emphasised_index is not None:
            return self.pitches
        return (*self.pitches, self.emphasised)

    @property
    def emphasised_index(self) -> int | None:
        """Place of the emphasised pitch among the wished ones, None where it is not there."""
        near = (i for i, pitch in enumerate(self.pitches) if self._is_emphasised(pitch))
        return next(near, None)

    def words_for(self, pitch: Pitch) -> str:
        """Return a wished pitch for people, without its octave where that does not count."""
        printed = pitch.printed()
        return re.sub(r"−?\d+", "", printed, count=1) if self.pitch_class else printed

    def _is_emphasised(self, pitch: Pitch) -> bool:
        return self.emphasised is not None and not deviation_cents(
            self.emphasised.cents, pitch.cents, pitch_class=self.pitch_class
        )


def deviation_cents(wished: Fraction, cents: Fraction, *, pitch_class: bool) -> Fraction:
    """Return by how many cents a height lies above the wished one; octaves may not count."""
    gap = cents - wished
    if not pitch_class:
        return gap
    half = CENTS_PER_OCTAVE // 2
    return (gap + half) % CENTS_PER_OCTAVE - half


def _impossible(wish: Wish) -> Iterator[str]:
    yield from _impossible_numbers(wish)
    yield from _impossible_pitches(wish)


def _impossible_numbers(wish: Wish) -> Iterator[str]:
    count = wish.tone_count
    if count is not None and not 1 <= count <= MOST_TONES:
        yield f"--tones: a sonority has 1 to {MOST_TONES} tones, not {count}"
    if len(wish.wanted) > (count or MOST_TONES):
        yield f"{len(wish.wanted)} pitches cannot sound in {count or MOST_TONES} tones"
    if wish.intervals and count == 1:
        yield "there is no interval in 1 tone"
    for name, cents in (
        ("--within", wish.within_cents),
        ("--avoid-within", wish.avoid_within_cents),
    ):
        if not 0 <= cents <= MAX_WITHIN_CENTS:
            yield f"{name} goes from 0 to {MAX_WITHIN_CENTS} cents, not {cents_text(cents)}"


def _impossible_pitches(wish: Wish) -> Iterator[str]:
    yield from _wished_and_avoided(wish)
    tolerance = 2 * wish.within_cents
    if wish.pitch_class:
        return
    if wish.lowest and wish.highest and wish.lowest.cents > wish.highest.cents + tolerance:
        yield f"the lowest tone {wish.lowest} lies above the highest, {wish.highest}"
    for pitch in wish.wanted:
        if wish.lowest and pitch.cents < wish.lowest.cents - tolerance:
            yield f"{pitch} is wished, but {wish.lowest} is to be the lowest tone"
        if wish.highest and pitch.cents > wish.highest.cents + tolerance:
            yield f"{pitch} is wished, but {wish.highest} is to be the highest tone"


def _wished_and_avoided(wish: Wish) -> Iterator[str]:
    """Name pitches around which no tone can lie that is not avoided as well."""
    if wish.written or wish.pitch_class:
        return
    for pitch, avoided in product(wish.wanted, wish.avoid):
        if abs(pitch.cents - avoided.cents) + wish.within_cents <= wish.avoid_within_cents:
            yield f"{pitch} is wished, and {avoided} is to be avoided"
